//! The trust file: whose signatures count. It has the format of OpenSSH's allowed signers (ssh-keygen, ALLOWED SIGNERS), so that
//! one file serves both programs.

use super::patterns::takes;
use super::signature::{NAMESPACE, Signed};
use crate::diagnostic::{Code, Diagnostic, SourceFile, quoted};
use crate::document::open_regular;
use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use ssh_key::PublicKey;
use std::io::Read as _;
use std::ops::Range;
use std::path::Path;
use std::sync::Arc;

/// The largest trust file that is read, in bytes.
const LARGEST: u64 = 1 << 20;

/// Keys and whose they are.
#[derive(Debug, Clone)]
pub struct TrustFile {
    name: String,
    signers: Vec<Signer>,
}

/// One line of a trust file.
#[derive(Debug, Clone)]
pub struct Signer {
    principals: String,
    namespaces: Option<String>,
    valid_after: Option<Timestamp>,
    valid_before: Option<Timestamp>,
    /// The key signs certificates of other keys. Signatures with certificates are not supported, and those with the key itself
    /// do not count.
    authority: bool,
    key: PublicKey,
    line: usize,
}

/// Why a signature is not trusted.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum Distrust {
    /// Nobody's key.
    #[error("the key is in no line of the trust file")]
    Unknown,
    /// The key is for something else.
    #[error("line {line} of the trust file does not let the key sign for {purpose}")]
    Namespace {
        /// What was signed.
        purpose: &'static str,
        /// The line.
        line: usize,
    },
    /// The key is for other packs.
    #[error("line {line} of the trust file lets the key sign what is called {principals}, and this is called `{name}`")]
    Name {
        /// The line.
        line: usize,
        /// What the line names.
        principals: String,
        /// What was signed.
        name: String,
    },
    /// The key is no longer or not yet good.
    #[error("by line {line} of the trust file the key is {state}")]
    Day {
        /// The line.
        line: usize,
        /// `not yet valid` or `no longer valid`.
        state: &'static str,
    },
}

impl TrustFile {
    /// Reads a trust file.
    ///
    /// # Errors
    /// It cannot be read, or every line that is wrong.
    pub fn read(path: &Path) -> Result<Self, Vec<Diagnostic>> {
        let name = path.display().to_string();
        let wrong = |why: &dyn std::fmt::Display| {
            vec![
                Diagnostic::error(Code::UnreadableTrust, format!("the trust file {} cannot be read: {why}", quoted(&name)))
                    .expected("a file of allowed signers, as ssh-keygen takes it"),
            ]
        };
        let mut bytes = Vec::new();
        let read = open_regular(path).and_then(|file| file.take(LARGEST + 1).read_to_end(&mut bytes));
        read.map_err(|error| wrong(&error))?;
        if bytes.len() as u64 > LARGEST {
            return Err(wrong(&format!("it is larger than {LARGEST} bytes")));
        }
        let text = String::from_utf8(bytes).map_err(|_| wrong(&"it is not UTF-8"))?;
        Self::parse(&name, &text)
    }

    /// Reads the text of a trust file under the name to show.
    ///
    /// # Errors
    /// Every line that is wrong; a file without a key.
    pub fn parse(name: &str, text: &str) -> Result<Self, Vec<Diagnostic>> {
        let source = Arc::new(SourceFile::new(name, text));
        let (mut signers, mut complaints, mut start) = (Vec::new(), Vec::new(), 0);
        for (index, line) in text.split('\n').enumerate() {
            let range = start..start + line.len();
            start += line.len() + 1;
            let line = line.trim();
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            match signer(line, index + 1) {
                Ok(signer) => signers.push(signer),
                Err(message) => complaints.push(wrong_line(&source, range, message)),
            }
        }
        if complaints.is_empty() && signers.is_empty() {
            let message = format!("the trust file {} holds no key", quoted(name));
            complaints.push(Diagnostic::error(Code::NoSigners, message).help(EXAMPLE));
        }
        if complaints.is_empty() { Ok(Self { name: name.to_owned(), signers }) } else { Err(complaints) }
    }

    /// The name it is shown by.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Who signed something of this name: the principals of the first line that lets the key sign it at this moment. The
    /// principals of a line are patterns of names, as `ssh-keygen -Y verify -I NAME` reads them: `tarnmark-*` takes in the packs
    /// of one state, `*` takes in everything, and an address such as `plans@county.example` says whose key it is and takes in
    /// no pack.
    ///
    /// # Errors
    /// Why no line does: the reason of the line that comes nearest.
    pub fn judge(&self, signed: &Signed, name: &str, moment: Timestamp) -> Result<&str, Distrust> {
        self.judge_for(NAMESPACE, signed, name, moment)
    }

    /// The same for another purpose than packs. Who signs variances is named with the rules: `clearances/*`.
    ///
    /// # Errors
    /// As [`TrustFile::judge`].
    pub fn judge_for(&self, purpose: &'static str, signed: &Signed, name: &str, moment: Timestamp) -> Result<&str, Distrust> {
        self.nearest(signed, &|signer| signer.doubt(purpose, moment).or_else(|| signer.doubt_of(name)))
    }

    /// Whether the key may sign anything at all at this moment: what a name says is believed only then.
    ///
    /// # Errors
    /// Why it may not.
    pub fn knows(&self, signed: &Signed, moment: Timestamp) -> Result<(), Distrust> {
        self.nearest(signed, &|signer| signer.doubt(NAMESPACE, moment)).map(drop)
    }

    fn nearest(&self, signed: &Signed, doubt: &dyn Fn(&Signer) -> Option<Distrust>) -> Result<&str, Distrust> {
        let mut reason = Distrust::Unknown;
        for signer in self.signers.iter().filter(|signer| !signer.authority && signer.key.key_data() == signed.key()) {
            match doubt(signer) {
                None => return Ok(&signer.principals),
                Some(doubt) if doubt.nearness() > reason.nearness() => reason = doubt,
                Some(_) => {}
            }
        }
        Err(reason)
    }
}

impl Distrust {
    /// How near a line came to vouching.
    fn nearness(&self) -> u8 {
        match self {
            Self::Unknown => 0,
            Self::Namespace { .. } => 1,
            Self::Name { .. } => 2,
            Self::Day { .. } => 3,
        }
    }
}

impl Signer {
    fn doubt(&self, purpose: &'static str, moment: Timestamp) -> Option<Distrust> {
        let line = self.line;
        if !self.namespaces.as_deref().is_none_or(|list| takes(list, purpose)) {
            return Some(Distrust::Namespace { purpose, line });
        }
        if self.valid_after.is_some_and(|after| moment < after) {
            return Some(Distrust::Day { line, state: "not yet valid" });
        }
        self.valid_before.is_some_and(|before| moment > before).then_some(Distrust::Day { line, state: "no longer valid" })
    }

    fn doubt_of(&self, name: &str) -> Option<Distrust> {
        let doubt = || Distrust::Name { line: self.line, principals: self.principals.clone(), name: name.to_owned() };
        (!takes(&self.principals, name)).then(doubt)
    }
}

const EXAMPLE: &str = "write one line for each key: the names of the packs it may sign, then the key, such as `tarnmark-*,plans@county.example \
     namespaces=\"redtag-pack\" ssh-ed25519 AAAA...`";

fn wrong_line(source: &Arc<SourceFile>, range: Range<usize>, message: String) -> Diagnostic {
    Diagnostic::error(Code::BadSigner, message)
        .at(source, range)
        .expected("principals, options, the key's kind and the key (ssh-keygen, ALLOWED SIGNERS)")
        .help(EXAMPLE)
}

/// Reads a line: principals, then a key, or options and a key.
fn signer(line: &str, number: usize) -> Result<Signer, String> {
    let (principals, rest) = field(line)?;
    let (key, options) = match key(rest) {
        Ok(key) => (key, ""),
        Err(as_key) => {
            let (options, rest) = field(rest)?;
            // Where nothing follows that could be a key after options, what stood there was to be the key.
            (key(rest).map_err(|error| if error == NO_KEY { as_key } else { error })?, options)
        }
    };
    let mut signer = Signer {
        principals: principals.trim_matches('"').to_owned(),
        namespaces: None,
        valid_after: None,
        valid_before: None,
        authority: false,
        key,
        line: number,
    };
    for option in split(options, |character| character == ',')?.into_iter().filter(|option| !option.is_empty()) {
        set(&mut signer, option)?;
    }
    Ok(signer)
}

const NO_KEY: &str = "this line has no key";

fn key(text: &str) -> Result<PublicKey, String> {
    let mut words = text.split_whitespace();
    let (Some(kind), Some(key)) = (words.next(), words.next()) else { return Err(NO_KEY.to_owned()) };
    PublicKey::from_openssh(&format!("{kind} {key}")).map_err(|error| format!("the key of this line cannot be read: {error}"))
}

fn set(signer: &mut Signer, option: &str) -> Result<(), String> {
    let (name, value) = option.split_once('=').unwrap_or((option, ""));
    let value = value.strip_prefix('"').and_then(|value| value.strip_suffix('"')).unwrap_or(value);
    match name.to_ascii_lowercase().as_str() {
        "cert-authority" => signer.authority = true,
        "namespaces" => signer.namespaces = Some(value.to_owned()),
        "valid-after" => signer.valid_after = Some(moment(value)?),
        "valid-before" => signer.valid_before = Some(moment(value)?),
        _ => return Err(format!("{} is no option of a trust file", quoted(option))),
    }
    Ok(())
}

/// The first field of a line, and the rest after the blanks. Blanks in double quotes belong to the field.
fn field(text: &str) -> Result<(&str, &str), String> {
    let first = split(text, char::is_whitespace)?.into_iter().next().unwrap_or_default();
    Ok((first, text[first.len()..].trim_start()))
}

/// Splits where a separator stands outside double quotes.
fn split(text: &str, separates: impl Fn(char) -> bool) -> Result<Vec<&str>, String> {
    let (mut parts, mut start, mut in_quotes) = (Vec::new(), 0, false);
    for (at, character) in text.char_indices() {
        if character == '"' {
            in_quotes = !in_quotes;
        } else if !in_quotes && separates(character) {
            parts.push(&text[start..at]);
            start = at + character.len_utf8();
        }
    }
    if in_quotes {
        return Err("a quotation mark of this line is not closed".to_owned());
    }
    parts.push(&text[start..]);
    Ok(parts)
}

/// `YYYYMMDD`, `YYYYMMDDHHMM` or `YYYYMMDDHHMMSS`, where the user is; with a Z at the end, universal time.
fn moment(text: &str) -> Result<Timestamp, String> {
    let wrong = || format!("{} is no time such as 20260131 or 202601311200Z", quoted(text));
    let (digits, zone) = match text.strip_suffix('Z') {
        Some(digits) => (digits, TimeZone::UTC),
        None => (text, TimeZone::system()),
    };
    if !matches!(digits.len(), 8 | 12 | 14) || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(wrong());
    }
    let part = |from: usize, to: usize| digits.get(from..to).and_then(|part| part.parse::<i8>().ok()).unwrap_or(0);
    let year = digits[..4].parse::<i16>().map_err(|_| wrong())?;
    let time = DateTime::new(year, part(4, 6), part(6, 8), part(8, 10), part(10, 12), part(12, 14), 0);
    zone.to_timestamp(time.map_err(|_| wrong())?).map_err(|_| wrong())
}
