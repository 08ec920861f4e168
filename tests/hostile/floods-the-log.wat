;; Logs one short line after the other.
(data (i32.const 65536) "still here")
(func (export "review") (param $request i32) (param $size i32) (result i32)
  (loop $again
    (call $log (i32.const 1) (i32.const 65536) (call $length (i32.const 65536)))
    (br $again))
  (unreachable))
