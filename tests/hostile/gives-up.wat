;; Answers, as the contract allows, that it cannot.
(data (i32.const 65536) "the project has no rooms")
(func (export "review") (param $request i32) (param $size i32) (result i32)
  (call $answer (i32.const 1) (i32.const 65536) (call $length (i32.const 65536))))
