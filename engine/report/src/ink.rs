//! The few colours of a report.

use anstyle::{AnsiColor, Color, Style};

/// What a piece of text is, as far as colour goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// Running text.
    Plain,
    /// A name or a heading.
    Strong,
    /// A remark beside the point.
    Faint,
    /// Something wrong.
    Bad,
    /// Something open.
    Open,
    /// Something worth knowing.
    Hint,
    /// Something in order.
    Good,
}

impl Ink {
    /// The text between the codes of this ink.
    pub fn paint(self, text: &str) -> String {
        let style = self.style();
        format!("{}{text}{}", style.render(), style.render_reset())
    }

    fn style(self) -> Style {
        let colour = |colour| Some(Color::Ansi(colour));
        match self {
            Self::Plain => Style::new(),
            Self::Strong => Style::new().bold(),
            Self::Faint => Style::new().dimmed(),
            Self::Bad => Style::new().bold().fg_color(colour(AnsiColor::Red)),
            Self::Open => Style::new().bold().fg_color(colour(AnsiColor::Yellow)),
            Self::Hint => Style::new().fg_color(colour(AnsiColor::Cyan)),
            Self::Good => Style::new().fg_color(colour(AnsiColor::Green)),
        }
    }
}
