//! Finding the layers: ranges, dates, circles, several versions.

use super::*;
use crate::diagnostic::Code;

fn names(layers: &Layers) -> Vec<&str> {
    layers.packs().iter().map(|pack| pack.name()).collect()
}

fn edition(version: &str, from: &str, until: Option<&str>) -> Arc<Pack> {
    pack(
        json!({ "name": "base", "version": version, "in_force": { "from": from, "until": until }, "modules": [{ "name": "gas" }] }),
    )
}

#[test]
fn layers_come_lowest_first_and_only_those_wanted() {
    let packs = [on("state", "county", json!([])), on_base("utility", json!([])), on_base("state", json!([])), base()];
    assert_eq!(names(&try_layers(&packs, &["county"]).expect("layers")), ["base", "state", "county"]);
    let both = try_layers(&packs, &["utility", "county", "base"]).expect("layers");
    assert_eq!(names(&both), ["base", "state", "county", "utility"]);
    assert!(both.stands_on(2, 0) && both.stands_on(2, 1) && !both.stands_on(3, 1) && !both.stands_on(0, 0));
}

#[test]
pub(crate) fn the_edition_of_the_day_is_taken() {
    let packs = [edition("1.0.0", "2018-01-01", Some("2024-12-31")), edition("1.1.0", "2025-01-01", None)];
    for (day, version) in [("2024-12-31", "1.0.0"), ("2025-01-01", "1.1.0")] {
        let layers = layers(&packs, &[Wanted::any("base")], day).expect("layers");
        assert_eq!(layers.pack(0).version().to_string(), version);
    }
    let complaint = only(layers(&packs, &[Wanted::any("base")], "2017-12-31"));
    assert_eq!(complaint.code, Code::NotInForce);
    assert!(
        complaint.message.contains("is not yet in force on 2017-12-31 (in force 2018-01-01 to 2024-12-31)"),
        "{}",
        complaint.message
    );
    assert!(complaint.help.as_deref().is_some_and(|help| help.contains("--as-of")), "{complaint:?}");
}

#[test]
pub(crate) fn two_editions_for_one_day_are_not_chosen_between() {
    let packs = [edition("1.0.0", "2018-01-01", None), edition("1.1.0", "2025-01-01", None)];
    let complaint = only(try_layers(&packs, &["base"]));
    assert_eq!(complaint.code, Code::TwoVersions);
    assert_eq!(complaint.secondary.len(), 2);
    // Twice the same pack is one pack.
    assert!(try_layers(&[base(), base()], &["base"]).is_ok());
}

#[test]
fn needing_two_versions_names_both_and_who_asks() {
    let packs = [
        edition("1.0.0", "2018-01-01", None),
        edition("2.0.0", "2018-01-01", None),
        pack(json!({ "name": "county", "stands_on": { "name": "base", "version": "^1" } })),
        pack(json!({ "name": "utility", "stands_on": { "name": "base", "version": "^2" } })),
    ];
    let complaint = only(try_layers(&packs, &["county", "utility"]));
    assert_eq!(complaint.code, Code::TwoVersions);
    assert!(complaint.message.contains("1.0.0 (base)") && complaint.message.contains("2.0.0 (base)"), "{}", complaint.message);
    assert!(complaint.one_line().starts_with("utility/pack.json:"), "{}", complaint.one_line());
    assert_eq!(complaint.secondary[0].span.file.name(), "county/pack.json");
}

#[test]
pub(crate) fn circles_are_told_once_whatever_is_wanted() {
    let packs = [on("b", "a", json!([])), on("c", "b", json!([])), on("a", "c", json!([]))];
    for wanted in [&["a"][..], &["c"], &["b", "a", "c"]] {
        let complaint = only(try_layers(&packs, wanted));
        assert_eq!(
            (complaint.code.word(), complaint.message.as_str()),
            ("pack-cycle", "packs stand on each other in a circle: a -> b -> c -> a")
        );
        assert_eq!(complaint.secondary.len(), 2);
    }
}

#[test]
pub(crate) fn what_is_wanted_and_not_there_is_told() {
    assert_eq!(only(try_layers(&[base()], &[])).code, Code::NoPack);
    let complaint = only(try_layers(&[base()], &["bse"]));
    assert_eq!((complaint.code.word(), complaint.help.as_deref()), ("missing-pack", Some("did you mean `base`?")));
    let wanted = Wanted { version: "^3".parse().expect("a range"), ..Wanted::any("base") };
    let complaint = only(layers(&[base()], &[wanted], DAY));
    assert_eq!(complaint.code, Code::NoVersionInRange);
    assert!(complaint.expected.as_deref().is_some_and(|words| words.contains("there is 1.0.0 (base)")), "{complaint:?}");
}

#[test]
fn a_pack_given_is_preferred_to_the_one_built_in() {
    let files = |version: &str| {
        let mut manifest = json!({ "name": "base", "version": version });
        BTreeMap::from([(crate::pack::MANIFEST.to_owned(), finished(&mut manifest).into_bytes())])
    };
    let built_in = Arc::new(Pack::from_files(files("1.1.0"), Origin::Embedded).expect("a pack"));
    let given = Arc::new(Pack::from_files(files("1.0.0"), Origin::Folder("vendor".into())).expect("a pack"));
    let version = |range: &str| {
        let wanted = Wanted { version: range.parse().expect("a range"), ..Wanted::any("base") };
        let layers = layers(&[built_in.clone(), given.clone()], &[wanted], DAY).expect("layers");
        layers.pack(0).version().to_string()
    };
    assert_eq!((version("*").as_str(), version("^1.1").as_str()), ("1.0.0", "1.1.0"));
}
