#!/bin/sh
# For RUSTC_WRAPPER, with any toolchain: the program and the crates that read what people typed are
# built so that libFuzzer sees which of their branches ran. All other crates stay as they are.
name=
for word do
    case $name in --crate-name) name=$word; break ;; esac
    case $word in --crate-name) name=$word ;; esac
done
case $name in
    slableaf | toml | toml_parser | toml_edit | winnow | minijinja)
        exec "$@" --cfg fuzzing -Ccodegen-units=1 -Cpasses=sancov-module \
            -Cllvm-args=-sanitizer-coverage-level=4 \
            -Cllvm-args=-sanitizer-coverage-inline-8bit-counters \
            -Cllvm-args=-sanitizer-coverage-pc-table \
            -Cllvm-args=-sanitizer-coverage-trace-compares
        ;;
    *) exec "$@" ;;
esac
