;; Answers with 32 MiB of spaces: memory it may have, an answer it may not give.
(func (export "review") (param $request i32) (param $size i32) (result i32)
  (drop (memory.grow (i32.const 512)))
  (memory.fill (i32.const 4194304) (i32.const 32) (i32.const 33554432))
  (call $answer (i32.const 0) (i32.const 4194304) (i32.const 33554432)))
