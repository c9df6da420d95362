//! A field of a register row that could not be read, from what the reader of the row says.

use super::Fault;

impl Fault {
    /// Returns what is wrong with a row where its reader stopped at `path` and said `what`, in the words of `serde`.
    ///
    /// A field that is missing stands in the sentence, its parent in the path.
    #[must_use]
    pub fn unread(path: &str, what: &str) -> Fault {
        Fault { field: field(path, what), text: explained(what) }
    }
}

fn field(path: &str, what: &str) -> String {
    let parent = if path == "." { "" } else { path };
    match what.strip_prefix("missing field `").and_then(|rest| rest.split('`').next()) {
        Some(name) if parent.is_empty() => name.to_owned(),
        Some(name) => format!("{parent}.{name}"),
        None => parent.to_owned(),
    }
}

fn explained(what: &str) -> String {
    if what.starts_with("missing field") {
        return "The field is missing. Write it into the row.".into();
    }
    if what.starts_with("unknown field") {
        return "There is no such field. Check how it is spelt, or take it out.".into();
    }
    format!("The field cannot be read ({what}). Correct it; numbers stand in quotes, with their unit.")
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use crate::visit::Fault;

    #[rstest]
    #[case::missing(".", "missing field `tag`", "tag", "The field is missing.")]
    #[case::missing_within("site", "missing field `name`", "site.name", "The field is missing.")]
    #[case::unknown(
        "site.nme",
        "unknown field `nme`, expected `name`",
        "site.nme",
        "There is no such field."
    )]
    #[case::a_number(
        "span",
        "invalid type: integer `20`, expected a string",
        "span",
        "The field cannot be read ("
    )]
    #[case::the_row_itself(".", "invalid type: null, expected a map", "", "The field cannot be read (")]
    fn a_field_is_named_and_what_to_write(
        #[case] path: &str,
        #[case] what: &str,
        #[case] field: &str,
        #[case] begins: &str,
    ) {
        let fault = Fault::unread(path, what);
        assert_eq!(fault.field, field);
        assert!(fault.text.starts_with(begins), "{}", fault.text);
    }
}
