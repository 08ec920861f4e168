//! The program's commands, one file each.

mod day;
mod ending;
mod files;
mod logging;
mod output;
mod panic;
