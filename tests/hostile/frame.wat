;; The frame of a rule module, for modules written by hand: everything the call contract asks for except `review`, whose text is
;; put in near the end. The words that begin with an at sign are filled in by tests/src/lib.rs.
(component
  (import "redtag:rules/host@1.0.0" (instance $host
    (type $levels (enum "debug" "info" "warn" "error"))
    (export "level" (type $level (eq $levels)))
    (export "log" (func (param "level" $level) (param "text" string)))))

  (core module $memory (memory (export "memory") 64))
  (core instance $memory (instantiate $memory))
  (alias core export $memory "memory" (core memory $shared))
  (core func $log (canon lower (func $host "log") (memory $shared)))

  (core module $code
    (import "memory" "memory" (memory 64))
    (import "host" "log" (func $log (param $level i32) (param $text i32) (param $length i32)))

    ;; Addresses 0 to 63 hold answers, 1024 the description, 65536 what `review` likes to put there; the last 3 MiB are handed
    ;; out once and never taken back.
    (data (i32.const 1024) "{\"schema\":1,\"module\":\"@name\",\"version\":\"1.0.0\",\"rules\":[{\"id\":\"hostile/@name\",\"title\":\"A rule of a module made for tests\",\"purpose\":\"Shows what the host does with a module that misbehaves.\",\"stages\":[\"permit\",\"rough-in\",\"final\"],\"reads\":[\"/equipment\"]}]}")
    (global $free (mut i32) (i32.const 1048576))

    (func (export "realloc") (param $old i32) (param $old_size i32) (param $align i32) (param $size i32) (result i32)
      (local $at i32)
      (local.set $at (i32.and (i32.add (global.get $free) (i32.const 7)) (i32.const -8)))
      (global.set $free (i32.add (local.get $at) (local.get $size)))
      (local.get $at))

    ;; How many bytes there are before the next zero.
    (func $length (param $at i32) (result i32)
      (local $end i32)
      (local.set $end (local.get $at))
      (block $done
        (loop $next
          (br_if $done (i32.eqz (i32.load8_u (local.get $end))))
          (local.set $end (i32.add (local.get $end) (i32.const 1)))
          (br $next)))
      (i32.sub (local.get $end) (local.get $at)))

    (func (export "describe") (result i32)
      (i32.store (i32.const 0) (i32.const 1024))
      (i32.store (i32.const 4) (call $length (i32.const 1024)))
      (i32.const 0))

    ;; Answers with so many bytes at an address: the error case when $failed is 1.
    (func $answer (param $failed i32) (param $at i32) (param $size i32) (result i32)
      (i32.store8 (i32.const 16) (local.get $failed))
      (i32.store (i32.const 20) (local.get $at))
      (i32.store (i32.const 24) (local.get $size))
      (i32.const 16))

    @review
  )
  (core instance $code (instantiate $code
    (with "memory" (instance $memory))
    (with "host" (instance (export "log" (func $log))))))

  (func $describe (result string)
    (canon lift (core func $code "describe") (memory $shared)))
  (func $review (param "request" string) (result (result string (error string)))
    (canon lift (core func $code "review") (memory $shared) (realloc (core func $code "realloc"))))
  (instance $module
    (export "describe" (func $describe))
    (export "review" (func $review)))
  (export "redtag:rules/module@1.0.0" (instance $module))
)
