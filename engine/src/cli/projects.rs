//! What a project says about its own review.

use super::ending::Stop;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::document::{Limits, ProjectDocument, read_project};
use crate::rulebook::Wanted;
use std::path::Path;

/// Reads a project.
pub fn read(file: &Path) -> Result<ProjectDocument, Stop> {
    read_project(file, &Limits::default()).map_err(Stop::from)
}

/// The packs it names, each with the place that names it.
///
/// # Errors
/// Version ranges that are none.
pub fn packs(document: &ProjectDocument) -> Result<Vec<Wanted>, Vec<Diagnostic>> {
    let (mut wanted, mut complaints) = (Vec::new(), Vec::new());
    for (at, reference) in document.project.packs.iter().flatten().enumerate() {
        let Some(name) = reference.name.clone() else {
            complaints.push(complaint(document, &format!("/packs/{at}"), "this pack has no name".to_owned()));
            continue;
        };
        let pointer = format!("/packs/{at}/version");
        let range = reference.version.as_deref().unwrap_or("*");
        match range.parse() {
            Ok(version) => {
                let span = Span::new(&document.source, document.spans.nearest(&format!("/packs/{at}/name")));
                wanted.push(Wanted { name, version, span: Some(span) });
            }
            Err(error) => complaints.push(complaint(document, &pointer, format!("this is no range of versions: {error}"))),
        }
    }
    if complaints.is_empty() { Ok(wanted) } else { Err(complaints) }
}

fn complaint(document: &ProjectDocument, pointer: &str, message: String) -> Diagnostic {
    Diagnostic::error(Code::BadPackReference, message)
        .at(&document.source, document.spans.nearest(pointer))
        .pointer(pointer)
        .expected("a pack's name and the versions that will do, such as {\"name\": \"saltreach-county\", \"version\": \"^1.0\"}")
}
