//! Looking at labels before they are printed, and the file.

use tagcode::Strength;
use tagcode::sheet::{LabelError, Plate};

use super::making::Made;
use super::offered::HOST;
use crate::counted::counted;
use crate::message::saying;
use crate::view::{Grade, LabelFile, LabelOrder, LabelPlace, LabelPreview, LabelsOf, Message};
use crate::{Error, Phone, export};

impl Phone {
    /// Returns what an order will look like.
    ///
    /// # Errors
    ///
    /// What cannot be printed, with what to do next; what the store says.
    pub fn labels_preview(&self, order: &LabelOrder) -> Result<LabelPreview, Error> {
        let made = self.made(order)?;
        let label = made.labels.first().ok_or(LabelError::Nothing)?;
        let (width, height) = label.alone();
        Ok(LabelPreview {
            lines: lines(&made, label),
            width: small(width),
            height: small(height),
            ink: label.path(),
            says: format!("Label of {} with its code", label.tag()),
            sheet_width: tenths(made.stock.page.0.0),
            sheet_height: tenths(made.stock.page.1.0),
            places: places(&made),
            messages: messages(&made),
        })
    }

    /// Writes an order into the export folder and returns the file's path. The same order gives the same file.
    ///
    /// # Errors
    ///
    /// As [`Phone::labels_preview`], [`Error::OneLabelOnly`] for a drawing or picture of several, and
    /// [`Error::NotExported`].
    pub fn labels_export(&self, order: &LabelOrder, file: LabelFile) -> Result<String, Error> {
        let made = self.made(order)?;
        let (ending, bytes) = match (file, made.labels.as_slice()) {
            (LabelFile::Pdf, _) => ("pdf", made.sheets.pdf()),
            (LabelFile::Svg, [label]) => ("svg", label.svg().into_bytes()),
            (LabelFile::Png, [label]) => ("png", label.png()?),
            _ => return Err(Error::OneLabelOnly),
        };
        let name = match &order.labels {
            LabelsOf::One { tag } => tag,
            LabelsOf::Site { name } => name,
        };
        let path =
            export::write(self.exports(), &format!("labels-{}", export::name_part(name)), ending, &bytes)
                .map_err(|error| Error::LabelsNotExported { what: error.kind().to_string() })?;
        self.store().set(&[(HOST, order.host.trim())])?;
        Ok(path.to_string_lossy().into_owned())
    }
}

fn lines(made: &Made, label: &Plate) -> Vec<String> {
    let mended = match label.strength() {
        Strength::High => 30,
        Strength::Quarter => 25,
        Strength::Medium => 15,
        Strength::Low => 7,
    };
    vec![
        format!("{} on {}", counted(made.labels.len(), "label"), counted(made.sheets.pages().len(), "sheet")),
        format!(
            "One module is {:.2} mm; read from up to {:.0} mm",
            label.module().0,
            label.reach().0.floor()
        ),
        format!("Still read with about {mended} % of the code lost"),
    ]
}

fn places(made: &Made) -> Vec<LabelPlace> {
    let used: Vec<usize> = made
        .sheets
        .pages()
        .first()
        .map_or(Vec::new(), |page| page.labels.iter().map(|(place, _)| *place).collect());
    let corners = (0..made.stock.places()).filter_map(|place| Some((place, made.stock.corner(place)?)));
    let place = |(place, (x, y)): (usize, (tagcode::sheet::Mm, tagcode::sheet::Mm))| LabelPlace {
        x: tenths(x.0),
        y: tenths(y.0),
        width: tenths(made.stock.label.0.0),
        height: tenths(made.stock.label.1.0),
        used: used.contains(&place),
    };
    corners.map(place).collect()
}

fn messages(made: &Made) -> Vec<Message> {
    let mut messages = vec![saying(
        "labels.actual_size",
        Grade::Note,
        "The sheet is printed at its actual size.",
        "Measure your sheet against the sizes named here, and turn off \u{201c}fit to page\u{201d} in the print dialogue.",
    )];
    if !made.unlisted.is_empty() {
        let text = format!(
            "The codes of {} of these labels do not stand in the register yet, so that a scan of them finds nothing.",
            made.unlisted.len()
        );
        let remedy =
            "Have them added to the register, or scan each label at its instrument once it hangs there.";
        messages.push(saying("labels.not_in_register", Grade::Warning, &text, remedy));
    }
    messages
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Pages are a few hundred millimetres.
fn tenths(millimetres: f64) -> u32 {
    (millimetres.max(0.0) * 10.0).round() as u32
}

fn small(dots: usize) -> u32 {
    u32::try_from(dots).unwrap_or(u32::MAX)
}
