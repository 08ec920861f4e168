//! Yes, no, or what it depends on.

/// The answer to a question asked of facts that may be unknown.
///
/// `Depends` names the unknown facts that could still turn the answer; it never stands for yes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer<F> {
    /// Yes, whatever is unknown.
    Yes,
    /// No, whatever is unknown.
    No,
    /// These facts decide.
    Depends(Vec<F>),
}

impl<F: Clone + PartialEq> Answer<F> {
    /// The answer a known truth gives.
    pub fn known(truth: bool) -> Self {
        if truth { Self::Yes } else { Self::No }
    }

    /// The answer of a fact that may be unknown.
    pub fn of(truth: Option<bool>, fact: F) -> Self {
        truth.map_or_else(|| Self::Depends(vec![fact]), Self::known)
    }

    /// Yes where one of them is yes.
    pub fn any(answers: impl IntoIterator<Item = Self>) -> Self {
        let mut open = Vec::new();
        for answer in answers {
            match answer {
                Self::Yes => return Self::Yes,
                Self::No => {}
                Self::Depends(facts) => push(&mut open, facts),
            }
        }
        if open.is_empty() { Self::No } else { Self::Depends(open) }
    }

    /// Yes where all of them are yes.
    pub fn all(answers: impl IntoIterator<Item = Self>) -> Self {
        let mut open = Vec::new();
        for answer in answers {
            match answer {
                Self::No => return Self::No,
                Self::Yes => {}
                Self::Depends(facts) => push(&mut open, facts),
            }
        }
        if open.is_empty() { Self::Yes } else { Self::Depends(open) }
    }

    /// The same answer about facts named otherwise.
    pub fn map<G>(self, name: impl Fn(F) -> G) -> Answer<G> {
        match self {
            Self::Yes => Answer::Yes,
            Self::No => Answer::No,
            Self::Depends(facts) => Answer::Depends(facts.into_iter().map(name).collect()),
        }
    }

    /// Whether the answer is yes.
    pub fn yes(&self) -> bool {
        *self == Self::Yes
    }
}

fn push<F: PartialEq>(to: &mut Vec<F>, facts: Vec<F>) {
    for fact in facts {
        if !to.contains(&fact) {
            to.push(fact);
        }
    }
}
