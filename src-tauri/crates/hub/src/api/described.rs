//! The description of every route, as `openapi.json` holds it.

use utoipa::OpenApi;

use super::routes::Described;

/// Returns the description, as text.
///
/// # Errors
///
/// None in practice: a description can always be written.
pub fn openapi() -> Result<String, serde_json::Error> {
    let mut text = Described::openapi().to_pretty_json()?;
    text.push('\n');
    Ok(text)
}
