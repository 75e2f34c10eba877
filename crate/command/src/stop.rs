//! Stopping by Ctrl-C: the first time work ends in good order, the second at
//! once.

use std::sync::atomic::{AtomicBool, Ordering};

/// The exit code of a run that was stopped: 128 and the number of the signal, as
/// shells count (common practice).
pub const STOPPED: u8 = 130;

static ASKED: AtomicBool = AtomicBool::new(false);

/// Begins to listen. Where the system gives no way to, Ctrl-C ends the process
/// at once, as ever.
pub fn listen() {
    let _ = ctrlc::set_handler(|| {
        if ASKED.swap(true, Ordering::SeqCst) {
            std::process::exit(i32::from(STOPPED));
        }
    });
}

/// Whether the person has asked to stop.
pub fn asked() -> bool {
    ASKED.load(Ordering::SeqCst)
}
