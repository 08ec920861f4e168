;; Says that its answer is 1 GiB long although it has no such memory.
(func (export "review") (param $request i32) (param $size i32) (result i32)
  (call $answer (i32.const 0) (i32.const 65536) (i32.const 1073741824)))
