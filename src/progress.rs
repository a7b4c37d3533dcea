//! A sign of life for whoever waits at a terminal: none elsewhere, and none on short runs.

use std::io::{self, IsTerminal};
use std::sync::mpsc::{self, RecvTimeoutError, Sender};
use std::thread::{self, JoinHandle};
use std::time::Duration;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// A run that is done within this time shows nothing.
const PATIENCE: Duration = Duration::from_millis(500);

/// From one picture to the next.
const TICK: Duration = Duration::from_millis(120);

/// What is being done, on standard error, until it is dropped: then its line is empty again.
pub struct Progress {
    bar: ProgressBar,
    /// Waits until patience is out; ends when the sender is dropped.
    watch: Option<(Sender<()>, JoinHandle<()>)>,
}

impl Progress {
    /// Nothing yet, and nothing at all where standard error is no terminal.
    pub fn begin() -> Progress {
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden());
        let bar = bar.with_style(ProgressStyle::default_spinner());
        if !io::stderr().is_terminal() {
            return Progress { bar, watch: None };
        }
        let (sender, ended) = mpsc::channel();
        let shown = bar.clone();
        let watch = thread::spawn(move || {
            if ended.recv_timeout(PATIENCE) == Err(RecvTimeoutError::Timeout) {
                shown.set_draw_target(ProgressDrawTarget::stderr());
                shown.enable_steady_tick(TICK);
            }
        });
        Progress { bar, watch: Some((sender, watch)) }
    }

    /// Planning begins.
    pub fn planning(&self) {
        self.bar.set_message("planning");
    }

    /// Drawing begins. How many files there will be is known only when all sheets are set.
    pub fn drawing(&self) {
        if let Ok(style) = ProgressStyle::with_template("{spinner} {msg}, {human_pos} files") {
            self.bar.set_style(style);
        }
        self.bar.set_message("drawing");
    }

    /// A file is written.
    pub fn file(&self) {
        self.bar.inc(1);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some((sender, watch)) = self.watch.take() {
            drop(sender);
            // A watch that failed has shown nothing that could be cleared.
            let _ = watch.join();
            self.bar.finish_and_clear();
        }
    }
}
