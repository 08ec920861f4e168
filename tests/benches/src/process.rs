//! What a process spent, as Linux tells it: processor time, and the most memory it held. Elsewhere there is nothing to read, and
//! an error says so.

use std::fs;
use std::io::{Error, Result};
use std::process::Command;
use std::time::Duration;

/// Ticks of `/proc/PID/stat` in a second: the same on every Linux, whatever the kernel counts in (proc(5), sysconf(3)).
const TICKS: f64 = 100.0;

/// What a process spent until its end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spent {
    /// Processor time, with that of the processes it waited for, in seconds.
    pub seconds: f64,
    /// The most memory it held, in bytes.
    pub most_memory: f64,
}

/// Runs a command to its end. Its times stand in its record until it is waited for; its memory is gone by then and is looked at
/// all along: the kernel keeps the highest mark itself.
///
/// # Errors
/// It cannot be started, ends with an error of its own, or this system keeps no such records.
pub fn spent(mut command: Command) -> Result<Spent> {
    let mut child = command.spawn()?;
    let record = format!("/proc/{}", child.id());
    let mut most_memory: f64 = 0.0;
    let seconds = loop {
        let stat = fs::read_to_string(format!("{record}/stat"))?;
        // The name of the program stands in brackets and may hold anything.
        let fields: Vec<&str> = stat.rsplit_once(')').map(|(_, rest)| rest.split_whitespace().collect()).unwrap_or_default();
        if fields.first() == Some(&"Z") {
            let ticks = fields.iter().skip(11).take(4).filter_map(|field| field.parse::<f64>().ok()).sum::<f64>();
            break ticks / TICKS;
        }
        let status = fs::read_to_string(format!("{record}/status")).unwrap_or_default();
        most_memory = most_memory.max(highest(&status).unwrap_or(0.0));
        std::thread::sleep(Duration::from_millis(2));
    };
    match child.wait()?.code() {
        Some(0 | 1) => Ok(Spent { seconds, most_memory }),
        code => Err(Error::other(format!("{command:?} ended with {code:?}"))),
    }
}

/// The line `VmHWM: 1234 kB`, in bytes.
fn highest(status: &str) -> Option<f64> {
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.split_whitespace().next()?.parse::<f64>().ok().map(|kilobytes| kilobytes * 1024.0)
}
