//! Annotations of a GitHub workflow: commands on standard output that the runner turns into remarks on the changed lines.
//!
//! A step may leave ten annotations of each weight, so the worst come first and the last lines say what was left off.

use super::material::Weight;
use super::{Material, Totals as _, clean};
use redtag_schema::contract::Outcome;
use redtag_schema::review::{Failure, Review, ReviewedFinding};

/// How many annotations of one weight a step may leave (GitHub's documentation of workflow commands).
const MOST: usize = 10;

/// The weights of annotations, worst first.
const WEIGHTS: [&str; 3] = ["error", "warning", "notice"];

/// The annotations, then how many there are of each weight, the totals and what every report says.
pub fn render(material: &Material) -> String {
    let mut of: [Vec<String>; 3] = Default::default();
    for review in &material.reviews.reviews {
        of[0].extend(review.failures.iter().map(|failure| failed(material, review, failure)));
    }
    for (outcome, review) in worst_first(material) {
        for finding in review.findings.iter().filter(|finding| finding.outcome == outcome) {
            if let Some(weight) = weight(material.weight(review, finding)) {
                of[weight].push(annotation(material, review, finding, WEIGHTS[weight]));
            }
        }
    }
    let mut out: String = of.iter().flat_map(|lines| lines.iter().take(MOST)).map(|line| format!("{line}\n")).collect();
    out.push_str(&closing(material, &of));
    out
}

/// Each outcome over all reviews before the next outcome.
fn worst_first<'a>(material: &Material<'a>) -> impl Iterator<Item = (Outcome, &'a Review)> {
    let reviews = &material.reviews.reviews;
    Outcome::ALL.into_iter().flat_map(|outcome| reviews.iter().map(move |review| (outcome, review)))
}

fn weight(weight: Weight) -> Option<usize> {
    match weight {
        Weight::Fails => Some(0),
        Weight::Open => Some(1),
        Weight::Hint => Some(2),
        Weight::Nothing => None,
    }
}

fn annotation(material: &Material, review: &Review, finding: &ReviewedFinding, weight: &str) -> String {
    let place = finding.place;
    let mut properties = format!("file={},line={},endLine={}", property(&material.path(review)), place.line, place.end_line);
    // Columns are heeded only within one line.
    if place.line == place.end_line {
        properties.push_str(&format!(",col={},endColumn={}", place.column, place.end_column));
    }
    let title = property(&format!("{} {}: {}", finding.outcome.word(), finding.rule, finding.title));
    let mut message = material.sentence(finding);
    for (word, text) in material.details(finding) {
        message.push_str(&format!("\n{word}: {text}"));
    }
    format!("::{weight} {properties},title={title}::{}", data(&message))
}

fn failed(material: &Material, review: &Review, failure: &Failure) -> String {
    let title = property(&format!("module failed: {} ({})", failure.module, failure.kind));
    let rules = if failure.rules.is_empty() { String::new() } else { format!("\nnot answered: {}", failure.rules.join(", ")) };
    let message = format!("{} ({}){rules}", clean(&failure.message), failure.pack);
    format!("::error file={},line=1,title={title}::{}", property(&material.path(review)), data(&message))
}

fn closing(material: &Material, of: &[Vec<String>; 3]) -> String {
    let count = |(weight, lines): (&str, &Vec<String>)| {
        let hidden = lines.len().saturating_sub(MOST);
        let shown = if hidden == 0 { String::new() } else { format!(" ({hidden} not shown here)") };
        format!("{} {weight}{}{shown}", lines.len(), if lines.len() == 1 { "" } else { "s" })
    };
    let counts: Vec<String> = WEIGHTS.into_iter().zip(of).map(count).collect();
    let reviews = material.reviews;
    format!("{}\ntotal: {}\n{}\n", counts.join(", "), reviews.words(), clean(&reviews.notice))
}

/// Text behind the second pair of colons.
fn data(text: &str) -> String {
    text.replace('%', "%25").replace('\r', "%0D").replace('\n', "%0A")
}

/// Text between the pairs of colons.
fn property(text: &str) -> String {
    data(&clean(text)).replace(':', "%3A").replace(',', "%2C")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::sample;

    #[test]
    fn the_annotations_read_like_this() {
        insta::assert_snapshot!(sample::with_material(false, render));
    }

    #[test]
    fn nothing_in_a_project_makes_a_command_of_its_own() {
        let hostile = "x\n::error::y, 100 %: z\r\n::stop-commands::q";
        let out = sample::with_changed(false, render, |reviews| {
            reviews.reviews[0].findings[0].title = hostile.to_owned();
            reviews.reviews[0].findings[0].subject.label = hostile.to_owned();
            reviews.reviews[0].file = "a,b: c%.json".to_owned();
        });
        let commands: Vec<&str> = out.lines().filter(|line| line.starts_with("::")).collect();
        assert_eq!(commands.len(), 4, "{out}");
        assert!(!out.contains("\n::stop") && commands[1].starts_with("::error file=a%2Cb%3A c%25.json,line=41"), "{out}");
        let (properties, message) = commands[1][2..].split_once("::").unwrap_or_default();
        assert!(properties.ends_with("y%2C 100 %25%3A z  %3A%3Astop-commands%3A%3Aq"), "{properties}");
        assert!(message.contains("y, 100 %25: z"), "{message}");
    }

    #[test]
    fn ten_of_each_weight_and_the_worst_first() {
        let out = sample::with_changed(false, render, |reviews| {
            let finding = reviews.reviews[0].findings[0].clone();
            reviews.reviews[0].findings.splice(0..0, std::iter::repeat_n(finding, 29));
        });
        assert_eq!(out.lines().filter(|line| line.starts_with("::error")).count(), 10);
        assert!(out.starts_with("::error file=houses/boatyard.json,line=1,title=module failed"), "{out}");
        assert!(out.contains("31 errors (21 not shown here), 1 warning, 1 notice"), "{out}");
    }

    #[test]
    fn what_was_known_before_fails_nothing() {
        let out = sample::with_changed(true, render, |reviews| {
            reviews.reviews[0].findings.iter_mut().for_each(|finding| finding.known = true);
            reviews.reviews[0].failures.clear();
        });
        assert!(!out.contains("::error") && !out.contains("::warning") && out.contains("::notice"), "{out}");
    }
}
