;; Makes room for an answer of 1 GiB and answers with it.
(func (export "review") (param $request i32) (param $size i32) (result i32)
  (drop (memory.grow (i32.const 16384)))
  (memory.fill (i32.const 4194304) (i32.const 32) (i32.const 1073741824))
  (call $answer (i32.const 0) (i32.const 4194304) (i32.const 1073741824)))
