//! A demand on a face held against what is there.

use crate::parts::{Part, mineral};
use crate::{area, faces};
use redtag_handbook::fire::{
    Answer, BoardArea, Counting, Face as Side, Finish, Layer as Known, LayerFact, Material, face_meets, sheets, sources,
};
use redtag_rule::prelude::*;

/// What a face must be.
#[derive(Clone)]
pub struct Demand {
    /// Why, as a label of the worksheet.
    pub why: &'static str,
    /// The finish.
    pub finish: Finish,
    /// The face.
    pub side: Side,
    /// Whether boards count together.
    pub counting: Counting,
    /// Where the demand comes from.
    pub source: &'static str,
}

/// Why a demand is met, or that it is not.
pub enum Held {
    /// Concrete or masonry stands for the board.
    Mineral,
    /// The layers are the finish or better.
    Board,
    /// The authority has taken what is there as equal.
    Equal,
    /// Neither.
    Lacking,
}

/// Holds a face against a demand. What is missing is named and is never a pass.
///
/// # Errors
/// Where the framing or the layers are not said, or a fact of a layer that decides.
pub fn held(part: &Part, demand: &Demand) -> Lookup<Held> {
    let list = need!(part.assembly, layers);
    let (framing, layers) = (part.framing(), list).together()?;
    if mineral(framing) {
        return Ok(Held::Mineral);
    }
    match face_meets(&faces::of(layers.get(), demand.side), &demand.finish, demand.counting) {
        Answer::Yes => Ok(Held::Board),
        Answer::No => equal(&part.assembly),
        Answer::Depends(facts) => Err(open(layers.pointer(), facts)),
    }
}

fn equal(assembly: &Place<Assembly>) -> Lookup<Held> {
    let Some(evidence) = &assembly.equal_finish else { return Ok(Held::Lacking) };
    match evidence.accepted {
        Some(true) if evidence.document.is_some() => Ok(Held::Equal),
        Some(false) => Ok(Held::Lacking),
        None => Err(assembly.missing("/equal_finish/accepted")),
        Some(true) => Err(assembly.missing("/equal_finish/document")),
    }
}

fn open(list: &str, facts: Vec<(usize, LayerFact)>) -> Unresolved {
    let missing = facts.into_iter().map(|fact| Unresolved::at(faces::pointer(list, fact))).reduce(Unresolved::and);
    missing.unwrap_or_else(|| Unresolved::at(list))
}

/// Works a demand on a sheet: what is needed, what is there, what is missing in square feet and on the plan.
///
/// # Errors
/// As [`held`].
pub fn work(inquiry: &Inquiry, part: &Part, demand: &Demand, sheet: &mut Sheet) -> Lookup<Text> {
    let needed = finish_words(&demand.finish);
    sheet.line("needed", text!("{}, for the {}", needed, demand.why), demand.source);
    if let Some(layers) = &part.assembly.layers {
        sheet.line("there", text!("{} on the {}", faces::words(layers, demand.side), side_words(demand.side)), "");
    }
    Ok(match held(part, demand)? {
        Held::Mineral => text!("concrete or masonry stands for the board"),
        Held::Board => text!("{} or better on the {}", needed, side_words(demand.side)),
        Held::Equal => {
            let document = part.assembly.equal_finish.as_ref().and_then(|evidence| evidence.document.clone()).unwrap_or_default();
            text!("taken as equal to {} by {}", needed, document)
        }
        Held::Lacking => {
            lacking(inquiry, part, demand, sheet, &needed);
            Text::default()
        }
    })
}

fn lacking(inquiry: &Inquiry, part: &Part, demand: &Demand, sheet: &mut Sheet, needed: &Text) {
    let there = part.assembly.layers.as_ref().map(|layers| faces::words(layers, demand.side)).unwrap_or_default();
    let words = text!("{} must have {} on the {}; there is {}", demand.why, needed, side_words(demand.side), there);
    sheet.require("finish", words, demand.source, false);
    let measured = missing_board(inquiry, part, demand);
    match &measured {
        Ok((board, open)) => take_off(sheet, board, *open),
        Err(unresolved) => {
            let places: Vec<String> = unresolved.missing.iter().map(|missing| missing.pointer.clone()).collect();
            sheet.line("take-off", text!("cannot be told without {}", places.join(", ")), "");
        }
    }
    cure(part, demand, sheet, needed, measured.ok().map(|(_, open)| open));
    let label = label(&demand.finish);
    area::mark(part, &label).into_iter().for_each(|mark| sheet.mark(mark));
}

/// The board a face takes, and the part of it that is still to be hung: less what an incomplete board of the right kind covers.
///
/// # Errors
/// As [`area::board`].
pub fn missing_board(inquiry: &Inquiry, part: &Part, demand: &Demand) -> Lookup<(BoardArea, uom::si::f64::Area)> {
    let board = area::board(inquiry, part)?;
    let layers = part.assembly.layers.as_deref().unwrap_or_default();
    let whole = |layer: &Layer| {
        let known = Known { complete: Some(true), ..faces::of(std::slice::from_ref(layer), demand.side)[0] };
        face_meets(&[known], &demand.finish, Counting::OneBoard).yes()
    };
    let covered =
        layers.iter().filter(|layer| layer.complete == Some(false) && whole(layer)).filter_map(|layer| layer.area.as_ref());
    let zero = board.net * 0.0;
    let covered = covered.map(|area| area.quantity()).fold(zero, |most, area| if area > most { area } else { most });
    let open = if covered > board.net { zero } else { board.net - covered };
    Ok((board, open))
}

fn take_off(sheet: &mut Sheet, board: &BoardArea, open: uom::si::f64::Area) {
    let source = sources::TAKEOFF.text();
    let words = text!(
        "face {}, openings {}, board {}",
        in_unit(board.gross, "ft²"),
        in_unit(board.cut, "ft²"),
        in_unit(board.net, "ft²")
    );
    sheet.line("take-off", words, source);
    sheet.line("to hang", text!("{}, {} sheets of 4 ft by 8 ft at least", in_unit(open, "ft²"), sheets(open)), source);
}

fn cure(part: &Part, demand: &Demand, sheet: &mut Sheet, needed: &Text, open: Option<uom::si::f64::Area>) {
    let layers = part.assembly.layers.as_deref().unwrap_or_default();
    let list = format!("{}/layers", part.assembly.pointer());
    let gap = layers.iter().zip(faces::of(layers, demand.side)).position(|(layer, known)| {
        let whole = Known { complete: Some(true), ..known };
        layer.complete == Some(false) && face_meets(&[whole], &demand.finish, Counting::OneBoard).yes()
    });
    let words = match open {
        Some(open) => text!("hang {} of {} on the {}", in_unit(open, "ft²"), needed, side_words(demand.side)),
        None => text!("hang {} on the {}", needed, side_words(demand.side)),
    };
    match gap {
        Some(index) => sheet.cure_at(words, &[(format!("{list}/{index}/complete"), json!(true))]),
        None => {
            let face = if demand.side == Side::This { "this" } else { "beyond" };
            let board = json!({"face": face, "material": "gypsum-board", "thickness": thickness_words(&demand.finish),
                "type_x": demand.finish.type_x, "taped": true, "complete": true});
            sheet.cure_at(words, &[(format!("{list}/-"), board)]);
        }
    }
}

/// The thickness as an author writes it: in sixteenths of an inch, or in millimetres where it is none.
fn thickness_words(finish: &Finish) -> String {
    let inches = finish.gypsum.get::<uom::si::length::meter>() / 0.0254;
    let sixteenths = (inches * 16.0).round();
    if (inches * 16.0 - sixteenths).abs() > 1e-6 {
        return format!("{} mm", inches * 25.4);
    }
    let mut fraction = (sixteenths as u64, 16);
    while fraction.0 % 2 == 0 && fraction.1 > 1 {
        fraction = (fraction.0 / 2, fraction.1 / 2);
    }
    if fraction.1 == 1 { format!("{} in", fraction.0) } else { format!("{}/{} in", fraction.0, fraction.1) }
}

/// A finish in words.
pub fn finish_words(finish: &Finish) -> Text {
    let kind = if finish.type_x { "Type X gypsum board" } else { "gypsum board" };
    let board = text!("{} {}", in_unit(finish.gypsum, "in"), kind);
    let board = match finish.panel {
        Some(panel) => text!("{} or {} wood structural panel", board, in_unit(panel, "in")),
        None => board,
    };
    if finish.equals.contains(&Material::Plaster) { text!("{} (or its equal)", board) } else { board }
}

fn label(finish: &Finish) -> String {
    let kind = if finish.type_x { "Type X " } else { "" };
    format!("{} {kind}board missing", thickness_words(finish))
}

/// A face in words.
pub fn side_words(side: Side) -> &'static str {
    if side == Side::This { "side of this space" } else { "far side" }
}
