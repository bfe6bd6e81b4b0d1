//! The `callup` program: hands the words typed to the library's command line.

fn main() -> std::process::ExitCode {
    callup::cli::run()
}
