;; Answers with text that is not JSON. The sandbox hands it on: what an answer must be is not its business.
(data (i32.const 65536) "all clear, trust me")
(func (export "review") (param $request i32) (param $size i32) (result i32)
  (call $answer (i32.const 0) (i32.const 65536) (call $length (i32.const 65536))))
