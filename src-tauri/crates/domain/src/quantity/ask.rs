//! Asking which of several texts is meant.

use super::{Candidate, Doubtful, EntryError, EntryProblem};

/// Offers each text that reads; a text that is itself doubtful hands on its own ways. Where none reads, the
/// first refusal is the answer.
pub(super) fn ask<E, V>(
    why: Doubtful,
    texts: Vec<String>,
    read: impl Fn(&str) -> Result<E, EntryProblem<V>>,
    candidate: impl Fn(String, E) -> Candidate<V>,
) -> EntryProblem<V> {
    let mut candidates: Vec<Candidate<V>> = Vec::new();
    let mut refused = None;
    for text in texts {
        match read(&text) {
            Ok(entry) => candidates.push(candidate(text, entry)),
            Err(EntryProblem::Doubtful { candidates: more, .. }) => candidates.extend(more),
            Err(EntryProblem::Refused(error)) => {
                refused.get_or_insert(error);
            }
        }
    }
    if candidates.is_empty() {
        let nothing = EntryError::NotUnderstood { text: String::new(), example: "a number with its unit" };
        return EntryProblem::Refused(refused.unwrap_or(nothing));
    }
    EntryProblem::Doubtful { why, candidates }
}
