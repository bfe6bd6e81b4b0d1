//! A bar with the time left for work over a second, on a terminal only; Ctrl-C asks the work to stop.

use crate::engine::Control;
use std::io::IsTerminal;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::{Duration, Instant};

/// Work shorter than this shows no bar.
const PATIENCE: Duration = Duration::from_secs(1);
const TICK: Duration = Duration::from_millis(100);

/// Runs `work` with a control that Ctrl-C stops, showing how much of `steps` is done.
pub(super) fn watched<T>(steps: usize, control: &Arc<Control>, work: impl FnOnce(&Control) -> T) -> T {
    let asked = Arc::clone(control);
    // A handler can be set only once; a second command in one process keeps the first.
    let _ = ctrlc::set_handler(move || {
        if asked.stopped() {
            std::process::exit(130);
        }
        asked.stop();
    });
    let over = Arc::new(AtomicBool::new(false));
    let watcher = std::io::stderr().is_terminal().then(|| {
        let (over, control) = (Arc::clone(&over), Arc::clone(control));
        thread::spawn(move || show(steps, &control, &over))
    });
    let result = work(control);
    over.store(true, Ordering::Relaxed);
    if let Some(watcher) = watcher {
        let _ = watcher.join();
    }
    result
}

fn show(steps: usize, control: &Control, over: &AtomicBool) {
    let start = Instant::now();
    let mut bar = None;
    while !over.load(Ordering::Relaxed) {
        thread::sleep(TICK);
        if start.elapsed() >= PATIENCE {
            let bar = bar.get_or_insert_with(|| {
                let style = indicatif::ProgressStyle::with_template("{bar:30} {percent} %, {eta} left");
                let bar = indicatif::ProgressBar::new(steps as u64).with_elapsed(start.elapsed());
                match style {
                    Ok(style) => bar.with_style(style),
                    Err(_) => bar,
                }
            });
            bar.set_position(control.done() as u64);
        }
    }
    if let Some(bar) = bar {
        bar.finish_and_clear();
    }
}
