//! What a manifest must keep beyond its schema: names, dates, paths, periods, and no amendment against another of its own.

use super::aspect::Aspect;
use super::is_kebab;
use crate::diagnostic::{Code, Diagnostic, quoted};
use crate::document::join;
use redtag_schema::contract::CONTRACT;
use redtag_schema::pack::{Amendment, Manifest, Period};
use semver::Version;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// Everything wrong with a manifest that its schema cannot say. Complaints carry their JSON pointer and no place.
pub(super) fn check(manifest: &Manifest) -> Vec<Diagnostic> {
    let mut out = check_amounts_of_text(manifest);
    if !out.is_empty() {
        return out;
    }
    check_name(&manifest.name, "/name", "a pack", &mut out);
    if let Some(base) = manifest.stands_on.as_ref().filter(|base| base.name == manifest.name) {
        let message = format!("pack `{}` stands on itself", base.name);
        out.push(Diagnostic::error(Code::PackCycle, message).pointer("/stands_on/name").expected("the name of the pack below"));
    }
    check_period(&manifest.in_force, "/in_force", &mut out);
    check_contract(&manifest.contract, &mut out);
    check_modules(manifest, &mut out);
    for (index, path) in manifest.cases.iter().enumerate() {
        check_path(path, &format!("/cases/{index}"), &mut out);
    }
    if let Some(path) = &manifest.variance_signers {
        check_path(path, "/variance_signers", &mut out);
    }
    for (index, amendment) in manifest.amendments.iter().enumerate() {
        check_amendment(manifest, amendment, index, &mut out);
    }
    check_overlaps(manifest, &mut out);
    out
}

/// The most amendments, modules, cases and bars of one pack: a state's whole code has some hundreds.
const MOST: [(&str, usize); 4] = [("amendments", 5_000), ("modules", 64), ("cases", 4_096), ("no_variance", 5_000)];
/// The longest text of a manifest, in bytes, but for its notes: what an amendment says stands beside every finding it bears on.
const LONGEST: usize = 4_000;
const LONGEST_NOTES: usize = 64 << 10;

/// Whether there is more in a manifest than a report can bear.
fn check_amounts_of_text(manifest: &Manifest) -> Vec<Diagnostic> {
    let value = serde_json::to_value(manifest).unwrap_or_default();
    let mut out = Vec::new();
    for (name, most) in MOST {
        let count = value.get(name).and_then(Value::as_array).map_or(0, Vec::len);
        if count > most {
            let message = format!("this pack has {count} {}, which is more than a rulebook is made of", name.replace('_', " "));
            let complaint = Diagnostic::error(Code::TooMany, message).pointer(format!("/{name}"));
            out.push(complaint.expected(format!("{most} at the most")));
        }
    }
    if out.is_empty() {
        check_texts(&value, "", &mut out);
    }
    out
}

fn check_texts(value: &Value, pointer: &str, out: &mut Vec<Diagnostic>) {
    match value {
        Value::String(text) => {
            let most = if pointer == "/notes" { LONGEST_NOTES } else { LONGEST };
            if text.len() > most {
                let complaint = Diagnostic::error(Code::TextTooLong, format!("this text has {} bytes", text.len()));
                out.push(complaint.pointer(pointer).expected(format!("{most} bytes at the most")));
            }
        }
        Value::Array(items) => {
            items.iter().enumerate().for_each(|(at, item)| check_texts(item, &join(pointer, &at.to_string()), out));
        }
        Value::Object(fields) => fields.iter().for_each(|(name, inner)| check_texts(inner, &join(pointer, name), out)),
        _ => {}
    }
}

fn check_name(name: &str, pointer: &str, what: &str, out: &mut Vec<Diagnostic>) {
    if !is_kebab(name) {
        let message = format!("{} cannot be the name of {what}", quoted(name));
        let expected = "small letters, digits and single hyphens, beginning with a letter, such as `model-residential`";
        out.push(Diagnostic::error(Code::BadName, message).pointer(pointer).expected(expected));
    }
}

fn check_period(period: &Period, pointer: &str, out: &mut Vec<Diagnostic>) {
    let before = out.len();
    for (field, day) in [("from", &period.from), ("until", &period.until)] {
        let Some(day) = day else { continue };
        if !is_day(day) {
            let message = format!("{} is not a day of the calendar", quoted(day));
            let complaint = Diagnostic::error(Code::BadDate, message).pointer(format!("{pointer}/{field}"));
            out.push(complaint.expected("a day as YYYY-MM-DD, such as 2025-01-31"));
        }
    }
    if is_backwards(period) && out.len() == before {
        let message = format!("this period ends before it begins ({})", period.words());
        out.push(Diagnostic::error(Code::BadPeriod, message).pointer(pointer).expected("`until` on or after `from`"));
    }
}

fn is_backwards(period: &Period) -> bool {
    matches!((&period.from, &period.until), (Some(from), Some(until)) if until < from)
}

/// Whether a text is a day that exists, in the one form that compares as text.
pub fn is_day(text: &str) -> bool {
    text.len() == 10
        && text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-')
        && text.parse::<jiff::civil::Date>().is_ok()
}

fn check_contract(contract: &str, out: &mut Vec<Diagnostic>) {
    let numbers: Option<Vec<u64>> = contract.split('.').map(|part| part.parse().ok()).collect();
    let needed = match numbers.as_deref() {
        Some([major, minor]) => Version::new(*major, *minor, 0),
        Some([major, minor, patch]) => Version::new(*major, *minor, *patch),
        _ => {
            let message = format!("{} is not a version of the call contract", quoted(contract));
            let expected = format!("two numbers, such as \"{}.{}\"", CONTRACT.major, CONTRACT.minor);
            return out.push(Diagnostic::error(Code::BadContract, message).pointer("/contract").expected(expected));
        }
    };
    if needed.major != CONTRACT.major || needed > CONTRACT {
        let message = format!("the modules of this pack need contract {contract}, this redtag speaks {CONTRACT}");
        let help = if needed < CONTRACT {
            "ask the pack's author for one built for the newer contract"
        } else {
            "update redtag, or ask the pack's author for one built for the older contract"
        };
        out.push(Diagnostic::error(Code::UnknownContract, message).pointer("/contract").help(help));
    }
}

fn check_modules(manifest: &Manifest, out: &mut Vec<Diagnostic>) {
    let mut seen = BTreeSet::new();
    for (index, module) in manifest.modules.iter().enumerate() {
        let pointer = format!("/modules/{index}");
        check_name(&module.name, &format!("{pointer}/name"), "a rule module", out);
        if !seen.insert(&module.name) {
            let message = format!("module `{}` is listed twice", module.name);
            out.push(Diagnostic::error(Code::DuplicateModule, message).pointer(format!("{pointer}/name")));
        }
        if let Some(file) = &module.file {
            check_path(file, &format!("{pointer}/file"), out);
        }
        let digest = module.sha256.as_deref().filter(|digest| !is_sha256(digest));
        if let Some(digest) = digest {
            let message = format!("{} is not a SHA-256", quoted(digest));
            let complaint = Diagnostic::error(Code::BadDigest, message).pointer(format!("{pointer}/sha256"));
            out.push(complaint.expected("64 hexadecimal digits in small letters; `redtag pack build` writes them"));
        }
    }
}

fn is_sha256(text: &str) -> bool {
    text.len() == 64 && text.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'))
}

fn check_path(path: &str, pointer: &str, out: &mut Vec<Diagnostic>) {
    let path_is_plain = !path.is_empty()
        && !path.contains(['\\', ':', '\0'])
        && path.trim_end_matches('/').split('/').all(|part| !part.is_empty() && part != "." && part != "..");
    if !path_is_plain {
        let message = format!("{} is not a path inside the pack", quoted(path));
        let complaint = Diagnostic::error(Code::BadPath, message).pointer(pointer);
        out.push(complaint.expected("a path relative to the manifest, parts joined by `/`, without `..`"));
    }
}

fn check_amendment(manifest: &Manifest, amendment: &Amendment, index: usize, out: &mut Vec<Diagnostic>) {
    let pointer = format!("/amendments/{index}");
    let Some(period) = &amendment.in_force else { return };
    let before = out.len();
    check_period(period, &format!("{pointer}/in_force"), out);
    if out.len() == before && !is_backwards(&manifest.in_force) && !overlap(period, &manifest.in_force) {
        let message = format!(
            "this amendment is law {}, the pack only {}: it never takes effect",
            period.words(),
            manifest.in_force.words()
        );
        out.push(Diagnostic::warning(Code::NeverInForce, message).pointer(format!("{pointer}/in_force")));
    }
}

/// Two amendments of one pack that say something about the same thing at the same time.
fn check_overlaps(manifest: &Manifest, out: &mut Vec<Diagnostic>) {
    let period = |amendment: &Amendment| amendment.in_force.clone().unwrap_or_else(|| manifest.in_force.clone());
    let mut said: BTreeMap<(&str, Aspect), Vec<usize>> = BTreeMap::new();
    for (index, later) in manifest.amendments.iter().enumerate() {
        let Some(aspect) = Aspect::of(&later.change) else { continue };
        let earlier = said.entry((later.change.subject(), aspect.clone())).or_default();
        let clash = |&&first: &&usize| overlap(&period(&manifest.amendments[first]), &period(later));
        if let Some(first) = earlier.iter().find(clash) {
            let kind = if later.change.rule().is_some() { "rule" } else { "figure" };
            let subject = quoted(later.change.subject());
            let message = format!("this pack says twice what {aspect} of {kind} {subject} is, for the same days");
            let complaint = Diagnostic::error(Code::AmendedTwice, message).pointer(format!("/amendments/{index}"));
            let expected = format!("one of the two (the other is at /amendments/{first}), or periods that do not overlap");
            out.push(complaint.expected(expected));
        }
        earlier.push(index);
    }
}

fn overlap(left: &Period, right: &Period) -> bool {
    let ends_first =
        |one: &Period, other: &Period| matches!((&one.until, &other.from), (Some(until), Some(from)) if until < from);
    !ends_first(left, right) && !ends_first(right, left)
}
