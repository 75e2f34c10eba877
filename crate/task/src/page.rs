//! The task `page`: makes the page when it is stale, serves it on this machine and opens it.
//!
//! It serves until it is interrupted.

use crate::dist;
use crate::place::Project;
use crate::run::{Failure, Outcome};
use crate::serve::Server;
use std::io::Write;
use std::process::{Command, Stdio};

/// The port that is tried first, and how many after it.
const FIRST_PORT: u16 = 8173;
const PORTS: u16 = 20;

/// What the person asked for.
#[derive(Debug, PartialEq, Eq)]
struct Wish {
    port: Option<u16>,
    open: bool,
}

/// Runs the task.
pub fn run(project: &Project, arguments: &[String]) -> Outcome {
    let wish = read(arguments)?;
    dist::make_if_stale(project)?;
    let ports = wish
        .port
        .map_or(FIRST_PORT..FIRST_PORT + PORTS, |port| port..port + 1);
    let server = Server::bind(project.dist(), ports)?;
    let address = server.address()?;
    println!("\nThe page is at {address}  (Ctrl-C ends it)");
    std::io::stdout().flush()?;
    if wish.open {
        open(&address);
    }
    server.serve();
    Ok(())
}

fn read(arguments: &[String]) -> Outcome<Wish> {
    let mut wish = Wish {
        port: None,
        open: true,
    };
    let mut words = arguments.iter();
    while let Some(word) = words.next() {
        match word.as_str() {
            "--no-open" => wish.open = false,
            "--port" => {
                // 65535 is left out so that a range can end after the port.
                let port = words
                    .next()
                    .and_then(|number| number.parse().ok())
                    .filter(|port| *port < u16::MAX);
                wish.port = Some(port.ok_or_else(|| {
                    Failure::new("--port needs a number from 0 to 65534 after it.")
                })?);
            }
            other => {
                return Err(Failure::new(format!(
                    "page knows --port N and --no-open, but not \"{other}\"."
                )));
            }
        }
    }
    Ok(wish)
}

/// Asks the desktop to open the address. Where there is no desktop, the printed address is enough.
fn open(address: &str) {
    let desktop =
        std::env::var_os("DISPLAY").is_some() || std::env::var_os("WAYLAND_DISPLAY").is_some();
    let mut command = if cfg!(target_os = "macos") {
        Command::new("open")
    } else if cfg!(windows) {
        Command::new("explorer")
    } else if desktop {
        Command::new("xdg-open")
    } else {
        return;
    };
    let _ = command
        .arg(address)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read_words(words: &[&str]) -> Outcome<Wish> {
        read(
            &words
                .iter()
                .map(|word| (*word).to_owned())
                .collect::<Vec<_>>(),
        )
    }

    #[test]
    fn wishes_are_read_and_others_refused() {
        let wish = read_words(&["--port", "9000", "--no-open"]).unwrap();
        assert_eq!(
            wish,
            Wish {
                port: Some(9000),
                open: false
            }
        );
        assert!(read_words(&["--port"]).is_err());
        assert!(read_words(&["--port", "70000"]).is_err());
        assert!(read_words(&["--colour"]).is_err());
    }
}
