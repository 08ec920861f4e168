;; Logs where and why it gives up, as the rule SDK does, then stops.
(data (i32.const 65536) "panicked at src/rules/made_up.rs:12:9:\nno furnace \1b[31mat all")
(func (export "review") (param $request i32) (param $size i32) (result i32)
  (call $log (i32.const 3) (i32.const 65536) (call $length (i32.const 65536)))
  (unreachable))
