//! The words of a rule, which are Markdown of whoever wrote the pack, as HTML that can do nothing.

use maud::{Markup, PreEscaped};
use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd, html::push_html};

/// Paragraphs, lists, emphasis and code. HTML is shown as text; links and pictures keep only their words.
pub fn to_html(text: &str) -> Markup {
    let harmless = Parser::new_ext(text, Options::empty()).filter_map(|event| match event {
        Event::Html(words) | Event::InlineHtml(words) => Some(Event::Text(words)),
        Event::Start(Tag::Link { .. } | Tag::Image { .. }) | Event::End(TagEnd::Link | TagEnd::Image) => None,
        other => Some(other),
    });
    let mut out = String::new();
    push_html(&mut out, harmless);
    PreEscaped(out)
}

#[cfg(test)]
mod tests {
    use super::to_html;

    #[test]
    fn nothing_of_a_pack_becomes_html() {
        let said =
            to_html("**Why.** <script>alert(1)</script> [here](javascript:x) ![p](http://x/y.png)\n\n<img src=x>").into_string();
        assert!(said.contains("<strong>Why.</strong>") && said.contains("&lt;script&gt;") && said.contains("here"), "{said}");
        for word in ["<script", "<img", "href", "src=\""] {
            assert!(!said.contains(word), "{word}: {said}");
        }
    }
}
