;; Asks for files. A whole component, since what it imports is what is wrong with it.
(component
  (import "wasi:filesystem/preopens@0.2.0" (instance $files
    (export "get-directories" (func (result (list string))))))
  (core module $code
    (memory (export "memory") 1)
    (func (export "describe") (result i32) (i32.const 0))
    (func (export "review") (param i32 i32) (result i32) (i32.const 16))
    (func (export "realloc") (param i32 i32 i32 i32) (result i32) (i32.const 1024)))
  (core instance $code (instantiate $code))
  (alias core export $code "memory" (core memory $memory))
  (func $describe (result string)
    (canon lift (core func $code "describe") (memory $memory)))
  (func $review (param "request" string) (result (result string (error string)))
    (canon lift (core func $code "review") (memory $memory) (realloc (core func $code "realloc"))))
  (instance $module
    (export "describe" (func $describe))
    (export "review" (func $review)))
  (export "redtag:rules/module@1.0.0" (instance $module))
)
