//! Running other programs, and the one error type of the task runner.
//!
//! Every command is printed before it runs, so a failed task shows what to repeat by hand.

use std::fmt;
use std::io::{BufRead, BufReader};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Why a task stopped: one or more sentences for the person who started it.
#[derive(Debug)]
pub struct Failure(String);

/// What a task or one of its steps comes to.
pub type Outcome<T = ()> = Result<T, Failure>;

impl Failure {
    /// A failure told by these sentences.
    pub fn new(sentences: impl Into<String>) -> Self {
        Self(sentences.into())
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.0)
    }
}

impl From<std::io::Error> for Failure {
    fn from(error: std::io::Error) -> Self {
        Self(format!("A file or a socket could not be used: {error}."))
    }
}

/// The cargo that started this program, for native builds.
pub fn cargo() -> Command {
    Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
}

/// Runs a command to its end with this terminal's input and output.
pub fn run(command: &mut Command) -> Outcome {
    announce(command);
    let status = command
        .status()
        .map_err(|error| not_started(command, &error))?;
    if status.success() {
        Ok(())
    } else {
        Err(ended_badly(command))
    }
}

/// Runs a command and hands each line of its standard output to `take`, after printing it.
pub fn run_reading(command: &mut Command, mut take: impl FnMut(&str)) -> Outcome {
    announce(command);
    let mut child = command
        .stdout(Stdio::piped())
        .spawn()
        .map_err(|error| not_started(command, &error))?;
    if let Some(output) = child.stdout.take() {
        let mut reader = BufReader::new(output);
        let mut line = Vec::new();
        // Bytes, not text: a test may print anything, and it must not end the run.
        while 0 < reader.read_until(b'\n', &mut line)? {
            let text = String::from_utf8_lossy(&line);
            print!("{text}");
            take(text.trim_end());
            line.clear();
        }
    }
    if child.wait()?.success() {
        Ok(())
    } else {
        Err(ended_badly(command))
    }
}

/// Runs a command, ends it after `limit`, and says whether it ended well by itself.
pub fn succeeds_within(command: &mut Command, limit: Duration) -> bool {
    announce(command);
    let Ok(mut child) = command.stdin(Stdio::null()).spawn() else {
        return false;
    };
    let start = Instant::now();
    loop {
        match child.try_wait() {
            Ok(Some(status)) => return status.success(),
            Ok(None) if start.elapsed() < limit => std::thread::sleep(Duration::from_millis(50)),
            _ => {
                println!("  stopped after {} s without an answer", limit.as_secs());
                // It has already ended when this fails, which is as good.
                let _ = child.kill();
                let _ = child.wait();
                return false;
            }
        }
    }
}

/// What a command prints on standard output, trimmed; `None` when it cannot be run or ends badly.
pub fn answer(command: &mut Command) -> Option<String> {
    let output = command
        .stdin(Stdio::null())
        .stderr(Stdio::null())
        .output()
        .ok()?;
    output
        .status
        .success()
        .then(|| String::from_utf8_lossy(&output.stdout).trim().to_owned())
}

fn announce(command: &Command) {
    println!("$ {}", in_words(command));
}

fn in_words(command: &Command) -> String {
    let mut words = vec![command.get_program().to_string_lossy().into_owned()];
    words.extend(
        command
            .get_args()
            .map(|word| word.to_string_lossy().into_owned()),
    );
    words.join(" ")
}

fn not_started(command: &Command, error: &std::io::Error) -> Failure {
    let program = command.get_program().to_string_lossy();
    Failure(format!(
        "\"{program}\" could not be started ({error}); is it installed and on the PATH?"
    ))
}

fn ended_badly(command: &Command) -> Failure {
    Failure(format!(
        "This command did not succeed: {}",
        in_words(command)
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_command_over_its_time_is_stopped() {
        let start = Instant::now();
        let limit = Duration::from_millis(200);
        assert!(!succeeds_within(Command::new("sleep").arg("30"), limit));
        assert!(start.elapsed() < Duration::from_secs(10));
    }

    #[test]
    fn a_missing_program_is_named() {
        let failure = run(&mut Command::new("no-such-program-here")).unwrap_err();
        assert!(failure.to_string().contains("no-such-program-here"));
    }

    #[test]
    fn lines_are_handed_over_and_a_bad_end_is_a_failure() {
        let mut lines = Vec::new();
        let mut command = Command::new("sh");
        command.args(["-c", "echo one; echo two; exit 3"]);
        let outcome = run_reading(&mut command, |line| lines.push(line.to_owned()));
        assert_eq!(lines, ["one", "two"]);
        assert!(outcome.is_err());
    }
}
