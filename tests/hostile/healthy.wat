;; Behaves: answers with no findings.
(data (i32.const 65536) "{\"schema\":1,\"findings\":[]}")
(func (export "review") (param $request i32) (param $size i32) (result i32)
  (call $answer (i32.const 0) (i32.const 65536) (call $length (i32.const 65536))))
