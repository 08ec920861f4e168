//! Git, asked: started with nothing but what is said here, ended at the limits.

use crate::object::{Entry, content, entry};
use crate::{Limits, RevisionError};
use std::ffi::{OsStr, OsString};
use std::io::{self, Read, Write as _};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::sync::{Mutex, PoisonError};

/// What the repository's own configuration could still say about the commands used here.
const SETTINGS: [&str; 8] = [
    // A hint about the variable below would be taken for a complaint.
    "advice.graftFileDeprecated=false",
    "core.fsmonitor=false",
    "core.hooksPath=/dev/null",
    "core.commitGraph=false",
    "core.multiPackIndex=false",
    "core.alternateRefsCommand=false",
    "protocol.allow=never",
    "safe.bareRepository=explicit",
];

/// The environment git starts with, besides the path to programs.
const ENVIRONMENT: [(&str, &str); 10] = [
    ("GIT_CONFIG_NOSYSTEM", "1"),
    ("GIT_CONFIG_GLOBAL", "/dev/null"),
    ("GIT_NO_LAZY_FETCH", "1"),
    // Stronger than `protocol.allow`: the repository's configuration cannot allow one again. No transport has this name.
    ("GIT_ALLOW_PROTOCOL", "none"),
    ("GIT_NO_REPLACE_OBJECTS", "1"),
    ("GIT_GRAFT_FILE", "/dev/null"),
    ("GIT_LITERAL_PATHSPECS", "1"),
    ("GIT_OPTIONAL_LOCKS", "0"),
    ("GIT_TERMINAL_PROMPT", "0"),
    ("LC_ALL", "C"),
];

/// More words of complaint than anybody reads.
const COMPLAINT_BYTES: u64 = 64 << 10;

/// A repository, by its `.git`.
#[derive(Debug)]
pub(crate) struct Git {
    repository: OsString,
    limits: Limits,
}

/// What a run of git came to.
struct Answer {
    success: bool,
    stdout: Vec<u8>,
    stderr: String,
}

impl Git {
    pub(crate) fn new(repository: &Path, limits: Limits) -> Self {
        Self { repository: repository.as_os_str().to_owned(), limits }
    }

    /// The name of the commit, which is safe to hand on: a revision may look like an option.
    pub(crate) fn commit(&self, revision: &str) -> Result<String, RevisionError> {
        let unknown = || RevisionError::Unknown { revision: revision.to_owned() };
        if revision.contains('\0') {
            return Err(unknown());
        }
        let wanted = format!("{revision}^{{commit}}");
        let arguments = ["rev-parse", "--verify", "--quiet", "--end-of-options", &wanted].map(OsStr::new);
        let answer = self.ask(&arguments, &[], "the name of a commit", 4096)?;
        let name = String::from_utf8_lossy(&answer.stdout).trim().to_owned();
        let is_name = matches!(name.len(), 40 | 64) && name.bytes().all(|byte| byte.is_ascii_hexdigit());
        match (answer.success && is_name, answer.stderr.is_empty()) {
            (true, _) => Ok(name),
            (false, true) => Err(unknown()),
            (false, false) => Err(RevisionError::Git(answer.stderr)),
        }
    }

    /// The plain files of a commit below a folder, which ends in a stroke or is empty for the top.
    pub(crate) fn files(&self, commit: &str, below: &OsStr) -> Result<Vec<Entry>, RevisionError> {
        let mut arguments = ["ls-tree", "-r", "-z", "--long", "--full-tree", commit].map(OsStr::new).to_vec();
        if !below.is_empty() {
            arguments.extend([OsStr::new("--"), below]);
        }
        let answer = self.ask(&arguments, &[], "the list of files", self.limits.list_bytes)?;
        if !answer.success {
            return Err(RevisionError::Git(answer.stderr));
        }
        let mut files: Vec<Entry> = answer.stdout.split(|&byte| byte == 0).filter_map(entry).collect();
        files.sort();
        Ok(files)
    }

    /// What the files hold, in their order.
    pub(crate) fn read(&self, files: &[Entry]) -> Result<Vec<Vec<u8>>, RevisionError> {
        let too_large = |what: String, allowed: u64| Err(RevisionError::TooLarge { what, allowed });
        if let Some(file) = files.iter().find(|file| file.size > self.limits.file_bytes) {
            return too_large(file.path.display().to_string(), self.limits.file_bytes);
        }
        let total = files.iter().fold(0_u64, |sum, file| sum.saturating_add(file.size));
        if total > self.limits.total_bytes {
            return too_large("all that is compared".to_owned(), self.limits.total_bytes);
        }
        if files.is_empty() {
            return Ok(Vec::new());
        }
        let asked: String = files.iter().map(|file| format!("{}\n", file.object)).collect();
        // Each answer has a line before it and a line end behind it.
        let most = total.saturating_add(files.len() as u64 * 256);
        let answer = self.ask(&["cat-file", "--batch"].map(OsStr::new), asked.as_bytes(), "what the files held", most)?;
        let mut rest = answer.stdout.as_slice();
        files
            .iter()
            .map(|file| content(&mut rest, &file.object).ok_or_else(|| RevisionError::Absent { path: file.path.clone() }))
            .collect()
    }

    fn command(&self, arguments: &[&OsStr]) -> Command {
        let mut command = Command::new("git");
        command.env_clear();
        // What finds and loads programs. No home: nothing personal is read.
        for name in ["PATH", "SystemRoot", "LD_LIBRARY_PATH"] {
            command.envs(std::env::var_os(name).map(|value| (name, value)));
        }
        command.envs(ENVIRONMENT).arg("--git-dir").arg(&self.repository).arg("--no-pager");
        SETTINGS.iter().for_each(|setting| {
            command.args(["-c", setting]);
        });
        command.args(arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        command
    }

    /// One run of git: what it is told on its standard input, and at the most so many bytes of answer.
    fn ask(&self, arguments: &[&OsStr], told: &[u8], what: &str, most: u64) -> Result<Answer, RevisionError> {
        let mut child = self.command(arguments).spawn().map_err(RevisionError::NoGit)?;
        let (stdin, stdout, stderr) = (child.stdin.take(), child.stdout.take(), child.stderr.take());
        let child = Mutex::new(child);
        let (done, ended) = mpsc::channel::<()>();
        let (output, complaint, late) = std::thread::scope(|scope| {
            let (running, limit) = (&child, self.limits.time);
            let clock = scope.spawn(move || {
                let late = ended.recv_timeout(limit) == Err(RecvTimeoutError::Timeout);
                if late {
                    end(running);
                }
                late
            });
            // Git answers while it is being asked: one thread alone would wait for the other end for ever. A git that ended
            // early reads no more; what it answered says why.
            scope.spawn(move || stdin.map(|mut stdin| stdin.write_all(told)));
            let complaint = scope.spawn(|| limited(stderr, COMPLAINT_BYTES));
            let output = limited(stdout, most);
            if output.as_ref().is_ok_and(|bytes| bytes.len() as u64 > most) {
                end(&child);
            }
            let complaint = complaint.join().unwrap_or_else(|_| Ok(Vec::new()));
            drop(done);
            (output, complaint, clock.join().unwrap_or(false))
        });
        let status = child.into_inner().unwrap_or_else(PoisonError::into_inner).wait();
        if late {
            return Err(RevisionError::Time(self.limits.time.as_secs()));
        }
        let stdout = output.map_err(|error| RevisionError::Git(error.to_string()))?;
        if stdout.len() as u64 > most {
            return Err(RevisionError::TooLarge { what: what.to_owned(), allowed: most });
        }
        let stderr = first_line(&complaint.unwrap_or_default());
        let success = status.map_err(|error| RevisionError::Git(error.to_string()))?.success();
        Ok(Answer { success, stdout, stderr })
    }
}

/// Ends git. One that has ended by itself is as good.
fn end(child: &Mutex<Child>) {
    let _ = child.lock().unwrap_or_else(PoisonError::into_inner).kill();
}

/// All of a pipe, or one byte more than is allowed.
fn limited(pipe: Option<impl Read>, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    if let Some(pipe) = pipe {
        pipe.take(most.saturating_add(1)).read_to_end(&mut bytes)?;
    }
    Ok(bytes)
}

/// What git complained about, in one line without anything that steers a terminal.
fn first_line(bytes: &[u8]) -> String {
    let text = String::from_utf8_lossy(bytes);
    let line = text.lines().next().unwrap_or_default().trim_start_matches("fatal: ");
    line.chars()
        .flat_map(|character| if character.is_control() { character.escape_default().collect() } else { vec![character] })
        .collect()
}
