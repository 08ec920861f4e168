//! Archives, signatures and the lock file, through the program: what is not whole, not signed where that is demanded, or not the
//! pack that was locked stops a review before any rule runs, and nothing of it is unpacked anywhere.
//!
//! Signatures are held against OpenSSH and archives against Info-ZIP and Python by `tests/outside/openssh.sh` and
//! `tests/outside/zip.sh`, which the last two tests run where those programs are installed.

mod program_support;

use program_support::{Bench, Outcome, answering, finding, said};
use serde_json::Value;
use ssh_key::private::Ed25519Keypair;
use ssh_key::{HashAlg, LineEnding, PrivateKey};
use std::error::Error;
use std::io::{Cursor, Write as _};
use std::path::Path;
use std::process::Command;

type Faulty<T> = Result<T, Box<dyn Error>>;

/// A house, and a pack `model` as folder and as archive, with a case so that there is more than one file to lie about.
fn bench() -> Faulty<Bench> {
    let bench = Bench::new()?;
    bench.project("house.json", "")?;
    let (_, module) = answering("bonding", &[finding("bonding", 1, "correction", "is not bonded")])?;
    bench.pack("model", &[("bonding", module)])?;
    bench.write("model/notes/one.md", "one\n")?;
    bench.write("model/notes/two.md", "two\n")?;
    let (code, _, err) = said(&mut bench.redtag(&["pack", "seal", "model", "--output", "model.redtag"]));
    assert_eq!((code, err.as_str()), (0, ""));
    Ok(bench)
}

/// A private key made of a number, so that no key is kept in a repository; and its line in a trust file.
fn key(bench: &Bench, name: &str, seed: u8) -> Faulty<String> {
    let key = PrivateKey::from(Ed25519Keypair::from_seed(&[seed; 32]));
    bench.write(name, key.to_openssh(LineEnding::LF)?.as_bytes())?;
    Ok(format!("model,plans@county.example namespaces=\"redtag-pack\" {}\n", key.public_key().to_openssh()?))
}

/// A bench whose archive is signed by a key that the file `signers` trusts.
fn signed() -> Faulty<Bench> {
    let bench = bench()?;
    let line = key(&bench, "key", 7)?;
    bench.write("signers", line)?;
    let (code, out, err) = said(&mut bench.redtag(&["pack", "sign", "model.redtag", "--key", "key"]));
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("model.redtag.sig") && out.contains("SHA256:"), "{out}");
    Ok(bench)
}

/// The files of a bench, with their sizes.
fn files(folder: &Path) -> Faulty<Vec<String>> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder)? {
        let entry = entry?;
        if entry.file_type()?.is_dir() {
            found.extend(files(&entry.path())?);
        } else {
            found.push(format!("{} {}", entry.path().display(), entry.metadata()?.len()));
        }
    }
    found.sort();
    Ok(found)
}

/// The command is refused: exit code 2, no review on standard output (a report says which file it refuses), every one of these words on standard error, and no file more
/// or less than before.
fn refused(bench: &Bench, command: &[&str], words: &[&str]) -> Outcome {
    let before = files(bench.path())?;
    let (code, out, err) = said(&mut bench.redtag(command));
    assert_eq!(code, 2, "{command:?}: {err}");
    assert!(out.is_empty() || out.contains("cannot be reviewed"), "{command:?}: {out}");
    // Lines are wrapped to the width of the screen.
    let unwrapped = err.split_whitespace().collect::<Vec<_>>().join(" ");
    for word in words {
        assert!(
            unwrapped.contains(&word.split_whitespace().collect::<Vec<_>>().join(" ")),
            "{command:?} does not say {word:?}: {err}"
        );
    }
    assert_eq!(files(bench.path())?, before, "{command:?}");
    Ok(())
}

/// A review by the archive, and its verification, are refused for the same reason.
fn archive_refused(bench: &Bench, archive: &str, words: &[&str]) -> Outcome {
    refused(bench, &["pack", "verify", archive], words)?;
    refused(bench, &["review", "house.json", "--packs", archive], words)
}

fn reviewed(bench: &Bench, more: &[&str]) -> (i32, String, String) {
    let command: Vec<&str> = ["review", "house.json"].iter().chain(more).copied().collect();
    said(&mut bench.redtag(&command))
}

#[test]
fn the_same_pack_gives_the_same_archive_wherever_and_whenever_it_is_sealed() -> Outcome {
    let bench = bench()?;
    let mut names = vec!["notes/two.md", "pack.json", "modules/bonding.wasm", "notes/one.md"];
    for copy in ["first", "second"] {
        for name in &names {
            bench.write(&format!("{copy}/{name}"), std::fs::read(bench.path().join("model").join(name))?)?;
        }
        let archive = format!("{copy}.zip");
        let (code, ..) = said(&mut bench.redtag(&["pack", "seal", copy, "--output", &archive]));
        assert_eq!(code, 0);
        assert_eq!(std::fs::read(bench.path().join(archive))?, std::fs::read(bench.path().join("model.redtag"))?);
        names.reverse();
    }
    Ok(())
}

#[test]
fn a_signed_archive_is_used_and_says_who_signed_it() -> Outcome {
    let bench = signed()?;
    let (code, out, err) = said(&mut bench.redtag(&["pack", "verify", "model.redtag", "--trust", "signers"]));
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("signed by model,plans@county.example") && out.contains("is whole"), "{out}");
    // Without a trust file no more is said than was checked.
    let (code, out, _) = said(&mut bench.redtag(&["pack", "verify", "model.redtag"]));
    assert!(code == 0 && out.contains("the signature fits") && !out.contains("signed by"), "{out}");
    let plain = reviewed(&bench, &["--packs", "model.redtag"]);
    assert_eq!(plain.0, 1, "{}", plain.2);
    // With one the report says who signed, and else the same.
    let vouched = |packs: &str| {
        let (code, out, err) = reviewed(&bench, &["--packs", packs, "--trust", "signers"]);
        assert_eq!((code, err.as_str()), (1, ""), "{out}");
        let unwrapped = out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(unwrapped.contains("signed by model,plans@county.example, key SHA256:"), "{out}");
        let findings = |text: &str| text.split_once("\n\n").map(|(_, rest)| rest.to_owned());
        assert_eq!(findings(&out), findings(&plain.1));
    };
    vouched("model.redtag");
    // The signature of the archive is that of the folder it was sealed from.
    refused(&bench, &["review", "house.json", "--packs", "model", "--trust", "signers"], &["not signed", "model.sig"])?;
    std::fs::copy(bench.path().join("model.redtag.sig"), bench.path().join("model.sig"))?;
    vouched("model/");
    Ok(())
}

#[test]
fn what_nobody_trusted_has_signed_is_refused_before_any_rule_runs() -> Outcome {
    let bench = signed()?;
    let demanded: [&[&str]; 4] = [
        &["pack", "verify", "model.redtag", "--trust", "signers"],
        &["review", "house.json", "--packs", "model.redtag", "--trust", "signers"],
        &["rulebook", "--packs", "model.redtag", "--trust", "signers"],
        &["prove", "model.redtag", "--trust", "signers"],
    ];
    let all = |words: &[&str]| demanded.iter().try_for_each(|command| refused(&bench, command, words));
    let signature = std::fs::read_to_string(bench.path().join("model.redtag.sig"))?;
    let archive = std::fs::read(bench.path().join("model.redtag"))?;

    std::fs::remove_file(bench.path().join("model.redtag.sig"))?;
    all(&["unsigned-pack", "is not signed", "model.redtag.sig"])?;

    bench.write("model.redtag.sig", &signature[..signature.len() / 2])?;
    all(&["bad-signature", "cut short"])?;

    let key = PrivateKey::from(Ed25519Keypair::from_seed(&[7; 32]));
    bench.write("model.redtag.sig", key.sign("file", HashAlg::Sha512, &archive)?.to_pem(LineEnding::LF)?)?;
    all(&["bad-signature", "`file`", "redtag-pack"])?;

    let stranger = PrivateKey::from(Ed25519Keypair::from_seed(&[8; 32]));
    bench.write("model.redtag.sig", stranger.sign("redtag-pack", HashAlg::Sha512, &archive)?.to_pem(LineEnding::LF)?)?;
    all(&["untrusted-signature", &stranger.fingerprint(HashAlg::Sha256).to_string(), "in no line"])?;

    bench.write("model.redtag.sig", &signature)?;
    bench.write("model.redtag", [&archive[..], b"\0"].concat())?;
    all(&["bad-signature", "the pack or the signature was changed"])?;
    // A signature that does not fit is no better where none is demanded.
    refused(&bench, &["pack", "verify", "model.redtag"], &["bad-signature"])
}

#[test]
fn a_trust_file_with_a_fault_is_shown_at_its_line() -> Outcome {
    let bench = signed()?;
    bench.write("signers", "# keys\nplans@county.example ssh-ed25519 AAAA\n")?;
    refused(&bench, &["review", "house.json", "--packs", "model.redtag", "--trust", "signers"], &["signers:2:1", "bad-signer"])?;
    refused(&bench, &["review", "house.json", "--packs", "model.redtag", "--trust", "nowhere"], &["nowhere", "unreadable-trust"])
}

#[test]
fn a_locked_repository_is_reviewed_by_the_locked_packs_only() -> Outcome {
    let bench = bench()?;
    std::fs::create_dir_all(bench.path().join("repository/.git"))?;
    std::fs::rename(bench.path().join("model"), bench.path().join("repository/model"))?;
    bench.project("repository/houses/pier/house.json", "")?;
    let locked = ["pack", "lock", "--packs", "repository/model", "--output", "repository/redtag.lock"];
    let (code, out, err) = said(&mut bench.redtag(&locked));
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("model 1.0.0"), "{out}");
    let lock: Value = serde_json::from_slice(&std::fs::read(bench.path().join("repository/redtag.lock"))?)?;
    let model = lock["packs"].as_array().and_then(|packs| packs.iter().find(|pack| pack["name"] == "model"));
    let model = model.ok_or("the pack is in the lock file")?;
    let digest = model["digest"].as_str().ok_or("a digest")?.to_owned();
    let sealed = redtag_module_builder::digest(&std::fs::read(bench.path().join("model.redtag"))?);
    assert_eq!(model["archive_sha256"], sealed, "the folder's archive is the one that sealing it gave");

    let review = ["review", "repository/houses/pier/house.json", "--packs", "repository/model"];
    let plain = said(&mut bench.redtag(&review));
    assert_eq!(plain.0, 1, "{}", plain.2);
    // Its archive is the same pack.
    let by_archive = ["review", "repository/houses/pier/house.json", "--packs", "model.redtag"];
    assert_eq!(said(&mut bench.redtag(&by_archive)), plain);

    // One byte of the manifest, and one of the module.
    let manifest = bench.path().join("repository/model/pack.json");
    let text = std::fs::read_to_string(&manifest)?;
    std::fs::write(&manifest, text.replace("made for tests", "made for testz"))?;
    refused(&bench, &review, &["pack-drift", "pack `model` 1.0.0", "repository/redtag.lock:", &digest, "redtag pack lock"])?;
    // Another project of the repository that does not even use it stops too.
    bench.project("repository/houses/shed/house.json", "")?;
    let both = [&review[..], &["repository/houses/shed/house.json"]].concat();
    refused(&bench, &both, &["pack-drift"])?;
    // Outside the repository the lock file is not asked, unless it is named.
    let outside = ["review", "house.json", "--packs", "repository/model"];
    assert_eq!(said(&mut bench.redtag(&outside)).0, 1);
    refused(&bench, &[&outside[..], &["--lock", "repository/redtag.lock"]].concat(), &["pack-drift"])?;
    std::fs::write(&manifest, text)?;
    let module = bench.path().join("repository/model/modules/bonding.wasm");
    let mut bytes = std::fs::read(&module)?;
    let last = bytes.len() - 1;
    bytes[last] ^= 1;
    std::fs::write(&module, &bytes)?;
    refused(&bench, &review, &["wrong-digest", "modules/bonding.wasm"])
}

#[test]
fn a_pack_beside_a_project_that_drifted_or_is_not_locked_stops_the_review() -> Outcome {
    let bench = bench()?;
    std::fs::create_dir_all(bench.path().join("packs"))?;
    std::fs::rename(bench.path().join("model"), bench.path().join("packs/model"))?;
    bench.project("house.json", "\n  \"packs\": [{ \"name\": \"model\" }],")?;
    // A folder of packs without any: what is beside the project is at hand all the same.
    std::fs::create_dir_all(bench.path().join("elsewhere"))?;
    let (code, _, err) = said(&mut bench.redtag(&["pack", "lock"]));
    assert_eq!((code, err.as_str()), (0, ""));
    refused(
        &bench,
        &["review", "house.json", "--packs", "elsewhere"],
        &["pack-not-locked", "pack `model` 1.0.0", "redtag.lock:"],
    )?;
    assert_eq!(said(&mut bench.redtag(&["pack", "lock", "--packs", "packs"])).0, 0);
    assert_eq!(said(&mut bench.redtag(&["review", "house.json", "--packs", "elsewhere"])).0, 1);
    // A neighbour that cannot be opened is passed over where nothing is locked, not here.
    bench.write("packs/broken.zip", "PK, but no archive")?;
    refused(&bench, &["review", "house.json", "--packs", "elsewhere"], &["packs/broken.zip"])
}

#[test]
fn a_lock_file_can_demand_signatures() -> Outcome {
    let bench = signed()?;
    let lock = ["pack", "lock", "--packs", "model.redtag", "--trust", "signers"];
    let (code, _, err) = said(&mut bench.redtag(&lock));
    assert_eq!((code, err.as_str()), (0, ""));
    assert_eq!(reviewed(&bench, &["--packs", "model.redtag"]).0, 1);
    std::fs::remove_file(bench.path().join("model.redtag.sig"))?;
    refused(&bench, &["review", "house.json", "--packs", "model.redtag"], &["unsigned-pack"])?;
    refused(&bench, &lock, &["unsigned-pack"])?;
    let outside = bench.path().join("signers");
    let named = outside.to_str().ok_or("a path")?;
    std::fs::create_dir_all(bench.path().join("below"))?;
    refused(&bench, &["pack", "lock", "--trust", named, "--output", "below/redtag.lock"], &["bad-trust-path"])
}

#[test]
fn a_lock_file_with_a_fault_is_shown_at_its_place() -> Outcome {
    let bench = bench()?;
    assert_eq!(said(&mut bench.redtag(&["pack", "lock", "--packs", "model"])).0, 0);
    let good: Value = serde_json::from_slice(&std::fs::read(bench.path().join("redtag.lock"))?)?;
    let mut faulty = Vec::new();
    for (pointer, value, code) in [
        ("/schema", Value::from(2), "unknown-schema"),
        ("/packs/0/digest", Value::from("0123"), "redtag.lock:"),
        ("/trust", Value::from("../signers"), "bad-trust-path"),
        ("/trust", Value::from("/etc/signers"), "bad-trust-path"),
        ("/packs/0/surprise", Value::from(1), "unknown-field"),
    ] {
        let mut lock = good.clone();
        let (above, field) = pointer.rsplit_once('/').ok_or("a pointer")?;
        lock.pointer_mut(above).ok_or("there")?[field] = value;
        faulty.push((lock.to_string(), code));
    }
    let mut twice = good.clone();
    let first = twice["packs"][0].clone();
    twice["packs"].as_array_mut().ok_or("packs")?.push(first);
    faulty.extend([(twice.to_string(), "locked-twice"), ("{".to_owned(), "redtag.lock:1:"), (String::new(), "redtag.lock")]);
    for (text, code) in faulty {
        bench.write("redtag.lock", &text)?;
        refused(&bench, &["review", "house.json", "--packs", "model"], &[code])?;
    }
    Ok(())
}

#[test]
fn an_archive_cut_short_or_altered_is_refused() -> Outcome {
    let bench = bench()?;
    let whole = std::fs::read(bench.path().join("model.redtag"))?;
    for length in [0, 3, 30, whole.len() / 2, whole.len() - 1] {
        bench.write("bad.zip", &whole[..length])?;
        archive_refused(&bench, "bad.zip", &["bad.zip", "cannot be opened"])?;
    }
    // One byte of a stored file: its checksum in the archive does not fit any more.
    let place = whole.windows(12).position(|window| window == b"is not bonde").ok_or("the module's words")?;
    let mut bytes = whole.clone();
    bytes[place] ^= 1;
    bench.write("bad.zip", &bytes)?;
    archive_refused(&bench, "bad.zip", &["damaged"])
}

/// The archive with one name in place of another of the same length, in both headers.
fn renamed(archive: &[u8], from: &str, to: &str) -> Vec<u8> {
    assert_eq!(from.len(), to.len());
    let mut bytes = archive.to_vec();
    let starts: Vec<usize> = (0..bytes.len() - from.len()).filter(|at| bytes[*at..].starts_with(from.as_bytes())).collect();
    assert_eq!(starts.len(), 2, "the name stands in both headers");
    for start in starts {
        bytes[start..start + to.len()].copy_from_slice(to.as_bytes());
    }
    bytes
}

#[test]
fn names_that_reach_outside_or_mean_another_file_are_refused() -> Outcome {
    let bench = bench()?;
    let whole = std::fs::read(bench.path().join("model.redtag"))?;
    for (name, words) in [
        ("../../../.md", "leaves its folder"),
        ("notes/../.md", "leaves its folder"),
        ("/notes/on.md", "is absolute"),
        ("notes\\one.md", "backslash"),
        ("C:/notes/.md", "some systems do not take"),
        ("notes/two.md", "same name"),
        ("notes/TWO.md", "only in capitals"),
    ] {
        bench.write("bad.zip", renamed(&whole, "notes/one.md", name))?;
        archive_refused(&bench, "bad.zip", &["cannot be opened", words])?;
    }
    Ok(())
}

/// Where the header of an entry begins in the directory at the archive's end (APPNOTE.TXT 4.3.12: the name stands 46 bytes on).
fn in_directory(archive: &[u8], name: &str) -> Faulty<usize> {
    let starts = archive.windows(4).enumerate().filter(|(_, window)| window == b"PK\x01\x02").map(|(at, _)| at);
    let mut starts = starts.filter(|at| archive.get(at + 46..).is_some_and(|rest| rest.starts_with(name.as_bytes())));
    Ok(starts.next().ok_or("the entry is in the directory")?)
}

#[test]
fn links_and_encrypted_files_are_refused() -> Outcome {
    let bench = bench()?;
    let whole = std::fs::read(bench.path().join("model.redtag"))?;
    let at = in_directory(&whole, "notes/one.md")?;
    // The file's mode lies in the upper half of the external attributes, 38 bytes on; 0120777 is a symbolic link.
    let mut link = whole.clone();
    link[at + 40..at + 42].copy_from_slice(&0o120_777_u16.to_le_bytes());
    bench.write("bad.zip", &link)?;
    archive_refused(&bench, "bad.zip", &["notes/one.md", "a link or device"])?;
    // Bit 0 of the flags says encrypted: 8 bytes on in the directory, 6 in the header before the file, whose place is 42 bytes on.
    let local = u32::from_le_bytes(whole[at + 42..at + 46].try_into()?) as usize;
    let mut encrypted = whole;
    encrypted[at + 8] |= 1;
    encrypted[local + 6] |= 1;
    bench.write("bad.zip", &encrypted)?;
    archive_refused(&bench, "bad.zip", &["notes/one.md", "encrypted"])
}

#[test]
fn bombs_are_refused() -> Outcome {
    let bench = bench()?;
    let options = zip::write::SimpleFileOptions::default().compression_method(zip::CompressionMethod::Deflated);
    let archive = |files: &[(String, usize)]| -> Faulty<Vec<u8>> {
        let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
        for (name, size) in files {
            writer.start_file(name.as_str(), options)?;
            writer.write_all(&vec![0; *size])?;
        }
        Ok(writer.finish()?.into_inner())
    };
    bench.write("bad.zip", archive(&[("pack.json".to_owned(), 40 << 20)])?)?;
    archive_refused(&bench, "bad.zip", &["times smaller"])?;
    let many: Vec<_> = (0..5000).map(|number| (format!("{number}.md"), 0)).collect();
    bench.write("bad.zip", archive(&many)?)?;
    archive_refused(&bench, "bad.zip", &["5000 files", "4096"])
}

/// Runs a check by programs that are not ours. Where one is not installed the check is left out, and a line says so; with
/// REDTAG_OUTSIDE=1, as continuous integration sets it, that is a failure.
fn by_others(script: &str, programs: &[&str], arguments: &[&Path]) -> Outcome {
    let absent = |program: &&&str| {
        !Command::new("sh").args(["-c", &format!("command -v {program}")]).output().is_ok_and(|found| found.status.success())
    };
    if let Some(program) = programs.iter().find(absent) {
        let demanded = std::env::var_os("REDTAG_OUTSIDE").is_some_and(|value| value == "1");
        assert!(!demanded, "{script} needs {program}, which is not installed");
        writeln!(std::io::stderr(), "left out: tests/outside/{script} needs {program}, which is not installed")?;
        return Ok(());
    }
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("outside").join(script);
    let output = Command::new("bash").arg(&script).arg(env!("CARGO_BIN_EXE_program")).args(arguments).output()?;
    let words = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    assert!(output.status.success(), "{}{}", words(&output.stdout), words(&output.stderr));
    Ok(())
}

#[cfg(unix)]
#[test]
fn openssh_takes_and_refuses_the_same_signatures() -> Outcome {
    let bench = bench()?;
    by_others("openssh.sh", &["bash", "ssh-keygen", "realpath", "cmp"], &[&bench.path().join("model.redtag")])
}

#[cfg(unix)]
#[test]
fn ordinary_zip_programs_read_archives_and_theirs_are_read() -> Outcome {
    let bench = bench()?;
    by_others("zip.sh", &["bash", "unzip", "zip", "diff", "realpath"], &[&bench.path().join("model")])
}
