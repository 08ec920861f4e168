//! The layers of a face against a truth table written by hand from the sections, tried with every combination.

use redtag_handbook::fire::{Answer, Counting, Finish, Layer, LayerFact, Material, behind_barrier, face_meets};
use redtag_handbook::units::inches;
use serde_json::Value;

const TABLE: &str = include_str!("../reference/fire/layers.json");

/// A layer of the table and the demands it meets alone.
struct Row {
    layer: Layer,
    meets: Vec<String>,
}

fn table() -> Value {
    serde_json::from_str(TABLE).expect("the table is JSON")
}

fn material(word: &str) -> Material {
    match word {
        "gypsum" => Material::Gypsum,
        "plaster" => Material::Plaster,
        "panel" => Material::StructuralPanel,
        "wood" => Material::Wood,
        "cement-board" => Material::CementBoard,
        "tile" => Material::Tile,
        "steel" => Material::SheetSteel,
        "masonry" => Material::Masonry,
        "foam" => Material::Foam,
        "mineral-wool" => Material::MineralWool,
        other => panic!("the table says {other}"),
    }
}

fn rows() -> Vec<Row> {
    let table = table();
    let row = |row: &Value| Row {
        layer: Layer {
            on_face: Some(true),
            material: Some(material(row["material"].as_str().unwrap())),
            thickness: Some(inches(row["inches"].as_f64().unwrap())),
            type_x: row["type_x"].as_bool(),
            complete: Some(true),
        },
        meets: row["meets"].as_array().unwrap().iter().map(|word| word.as_str().unwrap().to_owned()).collect(),
    };
    table["layers"].as_array().unwrap().iter().map(row).collect()
}

fn demands() -> Vec<(&'static str, Finish)> {
    let equals = [Material::Plaster, Material::Masonry];
    vec![
        ("R302.6 residence", Finish::half_inch().or(&equals)),
        ("R302.6 habitable above", Finish::type_x().or(&[Material::Masonry])),
        ("R302.7", Finish::half_inch()),
        ("R302.13", Finish::half_inch().or_panel(inches(0.625))),
        ("R316.4", Finish::half_inch().or_panel(inches(23.0 / 32.0))),
        ("R328.4", Finish::type_x()),
    ]
}

/// Every way to put this many layers on a wall: each on the face asked about or the other, whole or with gaps.
fn stacks(rows: &[Row], count: usize) -> Vec<Vec<(usize, bool, bool)>> {
    let mut all = vec![Vec::new()];
    for _ in 0..count {
        let with = |stack: &Vec<(usize, bool, bool)>| {
            let mut longer = Vec::new();
            for index in 0..rows.len() {
                for (on_face, whole) in [(true, true), (true, false), (false, true)] {
                    longer.push([stack.as_slice(), &[(index, on_face, whole)]].concat());
                }
            }
            longer
        };
        all = all.iter().flat_map(with).collect();
    }
    all
}

fn layers(rows: &[Row], stack: &[(usize, bool, bool)]) -> Vec<Layer> {
    let of = |&(index, on_face, whole): &(usize, bool, bool)| Layer {
        on_face: Some(on_face),
        complete: Some(whole),
        ..rows[index].layer
    };
    stack.iter().map(of).collect()
}

#[test]
fn every_stack_of_up_to_three_layers_answers_as_the_table_says() {
    let rows = rows();
    let mut tried = 0_u32;
    for count in 0..=3 {
        for stack in stacks(&rows, count) {
            let layers = layers(&rows, &stack);
            for (name, finish) in demands() {
                let expected = stack
                    .iter()
                    .any(|&(index, on_face, whole)| on_face && whole && rows[index].meets.iter().any(|met| met == name));
                let answer = face_meets(&layers, &finish, Counting::OneBoard);
                assert_eq!(answer, Answer::known(expected), "{name}: {stack:?}");
                tried += 1;
            }
        }
    }
    assert!(tried > 500_000, "{tried} combinations");
}

#[test]
fn foam_needs_the_barrier_on_its_room_side() {
    let rows = rows();
    let barrier = &demands()[4];
    for stack in (1..=3).flat_map(|count| stacks(&rows, count)) {
        let foam = |&(index, on_face, _): &(usize, bool, bool)| on_face && rows[index].layer.material == Some(Material::Foam);
        let covered = |from: usize| {
            stack[from + 1..]
                .iter()
                .any(|&(index, on_face, whole)| on_face && whole && rows[index].meets.iter().any(|met| met == barrier.0))
        };
        let expected = stack.iter().enumerate().all(|(index, layer)| !foam(layer) || covered(index));
        let answer = behind_barrier(&layers(&rows, &stack), &barrier.1, Counting::OneBoard);
        assert_eq!(answer, Answer::known(expected), "{stack:?}");
    }
}

/// The layer with some facts unknown: one bit for each.
fn hidden(layer: Layer, mask: u8) -> Layer {
    Layer {
        on_face: layer.on_face.filter(|_| mask & 1 == 0),
        material: layer.material.filter(|_| mask & 2 == 0),
        thickness: layer.thickness.filter(|_| mask & 4 == 0),
        type_x: layer.type_x.filter(|_| mask & 8 == 0),
        complete: layer.complete.filter(|_| mask & 16 == 0),
    }
}

#[test]
fn an_unknown_fact_never_passes_what_some_layer_of_the_table_would_not() {
    let rows = rows();
    for (name, finish) in demands() {
        for row in &rows {
            for mask in 0..32_u8 {
                let answer = face_meets(&[hidden(row.layer, mask)], &finish, Counting::OneBoard);
                // What the layer could be: any layer of the table that agrees with what is known.
                let like = rows.iter().filter(|other| hidden(other.layer, mask) == hidden(row.layer, mask));
                let could: Vec<bool> = like.map(|other| other.meets.iter().any(|met| met == name)).collect();
                match &answer {
                    Answer::Yes => assert!(mask & 17 == 0 && could.iter().all(|meets| *meets), "{name}, {mask}"),
                    Answer::No => assert!(could.iter().all(|meets| !*meets), "{name}, {mask}"),
                    Answer::Depends(facts) => {
                        let bit = |fact: &LayerFact| match fact {
                            LayerFact::Face => 1,
                            LayerFact::Material => 2,
                            LayerFact::Thickness => 4,
                            LayerFact::TypeX => 8,
                            LayerFact::Complete => 16,
                            LayerFact::Surface => 0,
                        };
                        assert!(!facts.is_empty() && facts.iter().all(|(_, fact)| mask & bit(fact) != 0), "{name}: {facts:?}");
                    }
                }
            }
        }
    }
}

#[test]
fn boards_count_together_only_where_they_may() {
    let board = |number: f64, type_x: bool| Layer {
        on_face: Some(true),
        material: Some(Material::Gypsum),
        thickness: Some(inches(number)),
        type_x: Some(type_x),
        complete: Some(true),
    };
    let two = [board(0.375, false), board(0.25, true)];
    assert_eq!(face_meets(&two, &Finish::half_inch(), Counting::OneBoard), Answer::No);
    assert_eq!(face_meets(&two, &Finish::half_inch(), Counting::Together), Answer::Yes);
    assert_eq!(face_meets(&two, &Finish::type_x(), Counting::Together), Answer::No);
    let unknown = Layer { thickness: None, ..board(0.0, true) };
    let more = face_meets(&[two[1], unknown], &Finish::type_x(), Counting::Together);
    assert_eq!(more, Answer::Depends(vec![(1, LayerFact::Thickness)]));
}
