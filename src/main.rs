//! The `brimful` program.

fn main() -> std::process::ExitCode {
    brimful::cli::main()
}
