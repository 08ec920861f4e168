;; Divides by zero.
(func $share (param $of i32) (param $among i32) (result i32)
  (i32.div_u (local.get $of) (local.get $among)))
(func (export "review") (param $request i32) (param $size i32) (result i32)
  (call $share (local.get $size) (i32.const 0)))
