//! Pages of lists. A page's token says where the next one begins; what is in it is nobody's business.

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use serde::Deserialize;

use super::Problem;

/// The most rows of a page.
pub(super) const MOST: u32 = 200;
/// The rows of a page where nobody says.
const USUAL: u32 = 50;

/// Which page of a list.
#[derive(Debug, Default, Deserialize, utoipa::IntoParams)]
#[into_params(parameter_in = Query)]
pub(super) struct Asked {
    /// The token of the page before.
    pub(super) after: Option<String>,
    /// How many rows, 200 at most.
    pub(super) limit: Option<u32>,
}

impl Asked {
    /// Returns how many rows are to be given.
    pub(super) fn most(&self) -> u32 {
        self.limit.unwrap_or(USUAL).clamp(1, MOST)
    }

    /// Returns the number in the token.
    pub(super) fn number(&self) -> Result<Option<u64>, Problem> {
        let Some(bytes) = self.bytes()? else { return Ok(None) };
        let number = bytes.try_into().map(u64::from_be_bytes).map_err(|_| wrong())?;
        Ok(Some(number))
    }

    /// Returns the text in the token.
    pub(super) fn text(&self) -> Result<Option<String>, Problem> {
        self.bytes()?.map(|bytes| String::from_utf8(bytes).map_err(|_| wrong())).transpose()
    }

    fn bytes(&self) -> Result<Option<Vec<u8>>, Problem> {
        self.after.as_ref().map(|token| URL_SAFE_NO_PAD.decode(token).map_err(|_| wrong())).transpose()
    }
}

fn wrong() -> Problem {
    Problem::bad("This is no token of a page. Begin the list again.")
}

/// Makes a token of a number.
pub(super) fn of_number(number: u64) -> String {
    URL_SAFE_NO_PAD.encode(number.to_be_bytes())
}

/// Makes a token of a text.
pub(super) fn of_text(text: &str) -> String {
    URL_SAFE_NO_PAD.encode(text)
}
