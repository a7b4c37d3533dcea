//! Signals that end a program, heard instead of obeyed while files are written.

use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use signal_hook::{consts, flag};

/// From [`Signals::listen`] until [`Signals::obey`], signals are only noted.
pub struct Signals {
    /// Whether one came.
    pub stop: Arc<AtomicBool>,
    /// Whether they are obeyed again.
    obeyed: Arc<AtomicBool>,
}

impl Signals {
    /// Notes signals from now on.
    pub fn listen() -> io::Result<Signals> {
        let signals = Signals { stop: Arc::default(), obeyed: Arc::default() };
        for signal in [consts::SIGINT, consts::SIGTERM, consts::SIGHUP] {
            flag::register_conditional_default(signal, Arc::clone(&signals.obeyed))?;
            flag::register(signal, Arc::clone(&signals.stop))?;
        }
        Ok(signals)
    }

    /// Lets signals end the program again.
    pub fn obey(&self) {
        self.obeyed.store(true, Ordering::Relaxed);
    }
}
