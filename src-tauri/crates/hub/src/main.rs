//! `headmark-hub`: one program for everything a hub does.

use std::process::ExitCode;

use clap::Parser;
use hub::commands::{Arguments, run};

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let runtime = match tokio::runtime::Builder::new_multi_thread().enable_all().build() {
        Ok(runtime) => runtime,
        Err(error) => {
            return failed(&format!("The hub could not start ({error}). Free memory and try again."));
        }
    };
    match runtime.block_on(run(arguments, &mut std::io::stdout())) {
        Ok(code) => code,
        Err(error) => failed(&format!("{error:#}")),
    }
}

fn failed(text: &str) -> ExitCode {
    use std::io::Write;
    // Where nobody reads there is nobody to tell.
    let _ = writeln!(std::io::stderr(), "{text}");
    ExitCode::FAILURE
}
