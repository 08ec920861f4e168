;; Answers with bytes that are not UTF-8.
(data (i32.const 65536) "\"\ff\fe\"")
(func (export "review") (param $request i32) (param $size i32) (result i32)
  (call $answer (i32.const 0) (i32.const 65536) (i32.const 4)))
