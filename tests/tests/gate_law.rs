//! Whose law a project is reviewed by: nothing a change to a repository brings along takes the place of the model code, lets another
//! pack in, drops the county's, or grants itself a variance. All names are invented.

mod program_support;

use program_support::{Bench, Outcome, answering, finding, said};
use redtag_schema::review::{DepartureKind, Review, Reviews};
use serde_json::{Value, json};
use ssh_key::private::Ed25519Keypair;
use ssh_key::{LineEnding, PrivateKey};
use std::error::Error;
use std::path::Path;

type Faulty<T> = Result<T, Box<dyn Error>>;

/// A pack without modules of its own.
fn manifest(name: &str, below: Option<&str>, amendments: &[Value]) -> Value {
    let mut manifest = json!({
        "schema": 1, "name": name, "version": "1.0.0", "title": "A pack made for tests",
        "authority": {"name": "Nobody"}, "contract": "1.0", "amendments": amendments,
    });
    if let Some(below) = below {
        manifest["stands_on"] = json!({"name": below, "version": "*"});
    }
    manifest
}

fn write(bench: &Bench, folder: &str, manifest: &Value) -> Outcome {
    bench.write(&format!("{folder}/pack.json"), format!("{manifest:#}\n"))?;
    Ok(())
}

/// A repository with a house under `projects/` and two packs beside it: rules that find two things wrong, and a county above.
fn repository() -> Faulty<Bench> {
    let bench = Bench::new()?;
    bench.write(".git/HEAD", "ref: refs/heads/main\n")?;
    bench.project("projects/house.json", "\n  \"packs\": [{\"name\": \"county\"}],")?;
    let (_, bonding) = answering("bonding", &[finding("bonding", 1, "correction", "is not bonded")])?;
    let (_, access) = answering("access", &[finding("access", 0, "correction", "cannot be reached")])?;
    bench.pack("projects/packs/base", &[("bonding", bonding), ("access", access)])?;
    let path = "projects/packs/base/pack.json";
    let text = std::fs::read_to_string(bench.path().join(path))?.replace("projects/packs/base", "base");
    bench.write(path, text)?;
    write(&bench, "projects/packs/county", &manifest("county", Some("base"), &[]))?;
    Ok(bench)
}

fn review(bench: &Bench, more: &[&str]) -> (i32, String, String) {
    let command: Vec<&str> = ["review", "projects/house.json"].iter().chain(more).copied().collect();
    said(&mut bench.redtag(&command))
}

fn reviewed(bench: &Bench, more: &[&str]) -> Faulty<(i32, Review)> {
    let (code, out, err) = review(bench, &[&["--format", "json"], more].concat());
    let reviews: Reviews = serde_json::from_str(&out).map_err(|error| format!("{error}: {err}"))?;
    Ok((code, reviews.reviews.into_iter().next().ok_or(err)?))
}

/// Refused with this kind of complaint, before any rule ran.
fn refused(bench: &Bench, more: &[&str], code: &str) {
    let (ending, out, err) = review(bench, more);
    assert_eq!(ending, 2, "{out}{err}");
    assert!(err.contains(code), "{code}: {err}");
    assert!(!out.contains("correction"), "{out}");
}

fn lock(bench: &Bench, output: &str, more: &[&str]) {
    let command: Vec<&str> =
        ["pack", "lock", "--packs", "projects/packs", "--output", output].iter().chain(more).copied().collect();
    let (code, _, err) = said(&mut bench.redtag(&command));
    assert_eq!((code, err.as_str()), (0, ""));
}

#[test]
fn a_pack_of_the_name_of_the_model_code_is_refused_unless_it_is_asked_for() -> Outcome {
    let bench = Bench::new()?;
    bench.project("projects/house.json", "")?;
    let impostor = manifest("model-residential", None, &[]);
    write(&bench, "projects/packs/x", &impostor)?;
    refused(&bench, &[], "model-code-replaced");
    // It need not be wanted: a stranger's pack under that name says that the others need a look.
    let mut newer = impostor.clone();
    newer["version"] = json!("9.9.9");
    write(&bench, "projects/packs/x", &newer)?;
    refused(&bench, &[], "model-code-replaced");
    write(&bench, "elsewhere", &impostor)?;
    std::fs::remove_dir_all(bench.path().join("projects/packs"))?;
    refused(&bench, &["--packs", "elsewhere"], "model-code-replaced");
    let (code, out, _) = said(&mut bench.redtag(&["explain", "model-code-replaced"]));
    assert!(code == 0 && out.contains("--replace-model-code"), "{out}");
    // A pack without rules finds nothing; that it stands in for the model code is told.
    let (code, found) = reviewed(&bench, &["--packs", "elsewhere", "--replace-model-code"])?;
    assert_eq!(code, 0);
    assert!(found.notes.iter().any(|note| note.contains("stands in the place of the model code")), "{:?}", found.notes);
    assert!(!found.packs[0].built_in);
    Ok(())
}

#[test]
fn the_report_says_by_which_packs_and_what_they_take_back() -> Outcome {
    let bench = repository()?;
    let ordinance = json!({"document": "Ordinance 2025-3"});
    let amendments = [
        json!({"change": "withdraw", "rule": "hostile/bonding", "ordinance": ordinance}),
        json!({"change": "relax", "rule": "hostile/access", "ordinance": ordinance}),
    ];
    let (code, before) = reviewed(&bench, &[])?;
    assert_eq!(code, 1);
    assert!(before.packs.iter().all(|pack| pack.departures.is_empty()));
    write(&bench, "projects/packs/county", &manifest("county", Some("base"), &amendments))?;
    let (code, after) = reviewed(&bench, &[])?;
    assert_eq!(code, 0, "nothing is left to correct");
    let told: Vec<_> =
        after.packs[1].departures.iter().map(|one| (one.rule.as_str(), one.kind, one.ordinance.as_str())).collect();
    assert_eq!(
        told,
        [
            ("hostile/access", DepartureKind::Relaxed, "Ordinance 2025-3"),
            ("hostile/bonding", DepartureKind::Withdrawn, "Ordinance 2025-3")
        ]
    );
    let (_, out, _) = review(&bench, &[]);
    let unwrapped = out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        unwrapped.contains("county 1.0.0 takes out of force 1 rule (hostile/bonding); makes advice of 1 rule (hostile/access)"),
        "{out}"
    );
    for pack in &after.packs {
        assert!(unwrapped.contains(&format!("{} 1.0.0 (digest {}", pack.name, &pack.digest[..16])), "{out}");
    }
    Ok(())
}

#[test]
fn the_lock_of_the_root_counts_and_one_below_can_only_ask_for_more() -> Outcome {
    let bench = repository()?;
    lock(&bench, "redtag.lock", &[]);
    assert_eq!(review(&bench, &[]).0, 1);
    // Another county, with a lock file beside the project that lets it in.
    let lenient = [json!({"change": "withdraw", "rule": "hostile/bonding", "ordinance": {"document": "none"}})];
    write(&bench, "projects/packs/county", &manifest("county", Some("base"), &lenient))?;
    refused(&bench, &[], "pack-drift");
    lock(&bench, "projects/redtag.lock", &[]);
    refused(&bench, &[], "locks-disagree");
    // The same by another name, in a folder between.
    bench.project("projects/deep/house.json", "")?;
    let (code, _, err) = said(&mut bench.redtag(&["review", "projects/deep/house.json"]));
    assert!(code == 2 && err.contains("locks-disagree"), "{err}");
    // One that agrees is no harm.
    write(&bench, "projects/packs/county", &manifest("county", Some("base"), &[]))?;
    lock(&bench, "projects/redtag.lock", &[]);
    assert_eq!(review(&bench, &[]).0, 1);
    // A repository in the repository hides nothing.
    bench.write("projects/.git", "gitdir: elsewhere\n")?;
    write(&bench, "projects/packs/county", &manifest("county", Some("base"), &lenient))?;
    lock(&bench, "projects/redtag.lock", &[]);
    refused(&bench, &[], "locks-disagree");
    // A lock file that is a link to nowhere is not an absent one.
    #[cfg(unix)]
    {
        std::fs::remove_file(bench.path().join("projects/redtag.lock"))?;
        std::fs::remove_file(bench.path().join("redtag.lock"))?;
        std::os::unix::fs::symlink("nowhere", bench.path().join("redtag.lock"))?;
        refused(&bench, &[], "unreadable-file");
    }
    Ok(())
}

#[test]
fn a_project_that_drops_a_pack_the_lock_demands_is_refused() -> Outcome {
    let bench = repository()?;
    lock(&bench, "redtag.lock", &["--require", "county"]);
    assert_eq!(review(&bench, &[]).0, 1);
    bench.project("projects/house.json", "\n  \"packs\": [{\"name\": \"base\"}],")?;
    refused(&bench, &[], "required-pack-dropped");
    bench.project("projects/house.json", "")?;
    refused(&bench, &[], "required-pack-dropped");
    // The others of the run are reviewed all the same.
    bench.project("projects/other.json", "\n  \"packs\": [{\"name\": \"county\"}],")?;
    let (code, out, _) = said(&mut bench.redtag(&["review", "projects/*.json"]));
    assert!(code == 2 && out.contains("is not bonded"), "{out}");
    // Without the demand the report says what the lock names.
    lock(&bench, "redtag.lock", &[]);
    let (_, found) = reviewed(&bench, &[])?;
    assert!(found.notes.iter().any(|note| note.contains("model code alone") && note.contains("county")), "{:?}", found.notes);
    let command = ["pack", "lock", "--packs", "projects/packs", "--require", "nobody"];
    let (code, _, err) = said(&mut bench.redtag(&command));
    assert!(code == 2 && err.contains("required-pack-dropped"), "{err}");
    Ok(())
}

/// A private key made of a number; the text of its public half.
fn key(bench: &Bench, name: &str, seed: u8) -> Faulty<String> {
    let key = PrivateKey::from(Ed25519Keypair::from_seed(&[seed; 32]));
    bench.write(name, key.to_openssh(LineEnding::LF)?.as_bytes())?;
    Ok(key.public_key().to_openssh()?)
}

fn sign(bench: &Bench, pack: &str, key: &str) {
    let (code, _, err) = said(&mut bench.redtag(&["pack", "sign", pack, "--key", key]));
    assert_eq!((code, err.as_str()), (0, ""));
}

#[test]
fn a_key_that_is_trusted_for_one_county_signs_no_other_and_not_the_model_code() -> Outcome {
    let bench = repository()?;
    let (base, county) = (key(&bench, "key-base", 1)?, key(&bench, "key-county", 2)?);
    bench.write("signers", format!("base {base}\ncounty,plans@county.example {county}\n"))?;
    sign(&bench, "projects/packs/base", "key-base");
    sign(&bench, "projects/packs/county", "key-county");
    let trust = ["--trust", "signers"];
    let (code, found) = reviewed(&bench, &trust)?;
    assert_eq!(code, 1);
    let by: Vec<_> = found.packs.iter().map(|pack| pack.signed_by.as_deref()).collect();
    assert_eq!(by, [Some("base"), Some("county,plans@county.example")]);
    assert!(found.packs.iter().all(|pack| pack.key.as_ref().is_some_and(|key| key.starts_with("SHA256:"))));
    // The county's key over the base pack.
    sign(&bench, "projects/packs/base", "key-county");
    refused(&bench, &trust, "untrusted-signature");
    sign(&bench, "projects/packs/base", "key-base");
    assert_eq!(review(&bench, &trust).0, 1);
    // Over a pack that calls itself the model code.
    write(&bench, "projects/packs/x", &manifest("model-residential", None, &[]))?;
    sign(&bench, "projects/packs/x", "key-county");
    refused(&bench, &trust, "untrusted-signature");
    // An address alone names no pack.
    bench.write("signers", format!("base {base}\nplans@county.example {county}\n"))?;
    std::fs::remove_dir_all(bench.path().join("projects/packs/x"))?;
    refused(&bench, &trust, "untrusted-signature");
    Ok(())
}

const RULE: &str = "hostile/bonding";

fn with_variance(bench: &Bench, change: &Value) -> Outcome {
    let mut house = json!({
        "schema": 1, "name": "Gull Point boathouse", "application_date": "2025-03-14", "packs": [{"name": "county"}],
        "site": {"address": "7 Gull Point"},
        "equipment": [{"id": "b-1", "kind": "boiler"}, {"id": "p-1", "kind": "panel"}],
        "variances": [{"id": "v-1", "rule": RULE, "subject": "p-1", "document": "Variance 2025-07", "expires": "2026-02-11"}],
    });
    json_patch::merge(&mut house, change);
    bench.write("projects/house.json", format!("{house:#}"))?;
    Ok(())
}

/// The signature the program makes of the variance as it stands there.
fn granted(bench: &Bench, key: &str) -> Faulty<String> {
    let (code, out, err) = said(&mut bench.redtag(&["variance", "projects/house.json", "v-1", "--key", key]));
    assert_eq!((code, err.as_str()), (0, ""));
    Ok(serde_json::from_str(&out)?)
}

/// The house with its variance signed; then changed.
fn with_signed(bench: &Bench, key: &str, then: &Value) -> Outcome {
    with_variance(bench, &json!({}))?;
    let signature = granted(bench, key)?;
    let mut house: Value = serde_json::from_slice(&std::fs::read(bench.path().join("projects/house.json"))?)?;
    house["variances"][0]["signature"] = json!(signature);
    // A patch of a list would replace it whole.
    if let Some(fields) = then.get("variance").and_then(Value::as_object) {
        fields.iter().for_each(|(name, value)| house["variances"][0][name] = value.clone());
    }
    if let Some(rest) = then.get("house") {
        json_patch::merge(&mut house, rest);
    }
    bench.write("projects/house.json", format!("{house:#}"))?;
    Ok(())
}

/// How many corrections are left, and what is said about variances.
fn left(bench: &Bench) -> Faulty<(usize, String)> {
    let (_, found) = reviewed(bench, &[])?;
    let corrections =
        found.findings.iter().filter(|one| one.rule == RULE && one.outcome == redtag_schema::contract::Outcome::Correction);
    let remarks = found.findings.iter().filter(|one| one.rule == "redtag/variance").map(|one| one.message.clone());
    Ok((corrections.count(), remarks.collect::<Vec<_>>().join("; ")))
}

#[test]
fn a_variance_needs_the_signature_of_the_authority_where_the_law_says_so() -> Outcome {
    let bench = repository()?;
    with_variance(&bench, &json!({}))?;
    assert_eq!(left(&bench)?.0, 0, "without a demand the record is believed");
    let authority = key(&bench, "key", 3)?;
    key(&bench, "other", 4)?;
    for by_pack in [true, false] {
        if by_pack {
            let mut county = manifest("county", Some("base"), &[]);
            county["variance_signers"] = json!("signers");
            write(&bench, "projects/packs/county", &county)?;
            bench.write("projects/packs/county/signers", format!("hostile/* namespaces=\"redtag-variance\" {authority}\n"))?;
        } else {
            write(&bench, "projects/packs/county", &manifest("county", Some("base"), &[]))?;
            bench.write("signers", format!("hostile/bonding {authority}\n"))?;
            lock(&bench, "redtag.lock", &["--variance-signers", "signers"]);
        }
        with_variance(&bench, &json!({}))?;
        let (corrections, words) = left(&bench)?;
        assert!(corrections == 1 && words.contains("it has no signature"), "{words}");
        with_signed(&bench, "key", &json!({}))?;
        assert_eq!(left(&bench)?, (0, String::new()), "signed by the authority");
        with_signed(&bench, "other", &json!({}))?;
        let (corrections, words) = left(&bench)?;
        assert!(corrections == 1 && words.contains("does not count"), "{words}");
        // Nothing that was signed can be changed, and it is for this house alone.
        for change in [
            json!({"variance": {"expires": "2036-02-11"}}),
            json!({"variance": {"conditions": ["none"]}}),
            json!({"house": {"name": "Heron Row 4"}}),
            json!({"house": {"site": {"address": "8 Gull Point"}}}),
            json!({"house": {"name": null}}),
            json!({"variance": {"signature": "-----BEGIN SSH SIGNATURE-----"}}),
        ] {
            with_signed(&bench, "key", &change)?;
            let (corrections, words) = left(&bench)?;
            assert!(corrections == 1 && words.contains("settles nothing"), "{change}: {words}");
        }
    }
    Ok(())
}

#[test]
fn openssh_signs_what_the_program_prints() -> Outcome {
    let bench = repository()?;
    if std::process::Command::new("ssh-keygen").arg("-?").output().is_err() {
        assert!(std::env::var_os("REDTAG_OUTSIDE").is_none(), "ssh-keygen is not installed");
        return Ok(());
    }
    key(&bench, "key", 3)?;
    #[cfg(unix)]
    std::fs::set_permissions(bench.path().join("key"), std::os::unix::fs::PermissionsExt::from_mode(0o600))?;
    with_variance(&bench, &json!({}))?;
    let (code, statement, _) = said(&mut bench.redtag(&["variance", "projects/house.json", "v-1"]));
    assert_eq!(code, 0);
    assert!(statement.contains("Gull Point boathouse") && statement.contains("Variance 2025-07"), "{statement}");
    let file = bench.write("statement", &statement)?;
    let theirs = |file: &Path| -> Faulty<String> {
        let mut command = std::process::Command::new("ssh-keygen");
        command.current_dir(bench.path()).args(["-q", "-Y", "sign", "-n", "redtag-variance", "-f", "key"]).arg(file);
        assert!(command.status()?.success());
        Ok(std::fs::read_to_string(file.with_extension("sig"))?)
    };
    // ed25519 leaves nothing to chance (RFC 8032): both programs write the same signature.
    assert_eq!(theirs(&file)?, granted(&bench, "key")?);
    let (code, _, err) = said(&mut bench.redtag(&["variance", "projects/house.json", "v-2"]));
    assert!(code == 2 && err.contains("v-1"), "{err}");
    Ok(())
}
