//! Sheets as PDF.
//!
//! `pdf-writer` puts the objects down; it draws nothing, so that every coordinate is ours. A label is one path with one
//! filling: viewers smooth the edges of each filling, and modules filled one by one would show white seams.

use pdf_writer::{Content, Filter, Finish, Name, Pdf, Rect, Ref};

use super::{Dpi, Mm, Page, Plate, Shape, Sheets, Stock};

/// Points an inch, the unit of PDF (ISO 32000-1, 8.3.2.3), and an inch in millimetres.
const POINTS: f64 = 72.0;
const INCH: f64 = 25.4;
/// How hard the pages are packed, of 10.
const PACKED: u8 = 6;

impl Sheets {
    /// Returns the sheets as a PDF file. The same labels give the same bytes: no date and no name is in it.
    #[must_use]
    pub fn pdf(&self) -> Vec<u8> {
        let mut pdf = Pdf::new();
        let [catalog, tree] = [1, 2].map(Ref::new);
        let pages = || (3..).step_by(2).map(Ref::new).zip(self.pages());
        let mut root = pdf.catalog(catalog);
        root.pages(tree);
        // A print that is made to fit the page is a few percent too small and drifts off the labels.
        root.viewer_preferences().pair(Name(b"PrintScaling"), Name(b"None"));
        root.finish();
        let count = i32::try_from(self.pages().len()).unwrap_or(i32::MAX);
        pdf.pages(tree).kids(pages().map(|(id, _)| id)).count(count);
        for (id, page) in pages() {
            let content = id.next();
            let (wide, high) = self.stock.page;
            let mut entry = pdf.page(id);
            entry.parent(tree).media_box(Rect::new(0.0, 0.0, points(wide), points(high))).contents(content);
            entry.resources();
            entry.finish();
            let drawn = miniz_oxide::deflate::compress_to_vec_zlib(&drawn(self.stock, page), PACKED);
            pdf.stream(content, &drawn).filter(Filter::FlateDecode);
        }
        pdf.finish()
    }
}

fn drawn(stock: &Stock, page: &Page) -> Vec<u8> {
    let mut content = Content::new();
    for (place, label) in &page.labels {
        let Some((left, top)) = stock.corner(*place) else { continue };
        let corner = centred(label, (left, top), stock.label);
        fill(&mut content, label, corner, stock.page.1);
    }
    content.finish().to_vec()
}

/// The dot where a label's upper left is, in the middle of its place.
fn centred(label: &Plate, (left, top): (Mm, Mm), (wide, high): (Mm, Mm)) -> (usize, usize) {
    let (width, height) = label.size();
    let middle = |from: Mm, side: Mm, dots: usize| {
        let Mm(own) = label.dpi().length(dots);
        label.dpi().nearest(Mm(from.0 + (side.0 - own) / 2.0))
    };
    (middle(left, wide, width), middle(top, high, height))
}

fn fill(content: &mut Content, label: &Plate, (right, down): (usize, usize), page_height: Mm) {
    let dpi = label.dpi();
    let across = |dots: usize| length(dpi, dots);
    let up = |dots: usize| points(Mm(page_height.0 - dpi.length(dots).0));
    for shape in label.shapes() {
        match shape.moved(right, down) {
            Shape::Block { x, y, width, height } => {
                content.rect(across(x), up(y + height), across(width), across(height));
            }
            Shape::Corner { x, y, side } => {
                content.move_to(across(x), up(y)).line_to(across(x), up(y - side));
                content.line_to(across(x - side), up(y)).close_path();
            }
        }
    }
    content.fill_nonzero();
}

fn length(dpi: Dpi, dots: usize) -> f32 {
    points(dpi.length(dots))
}

#[allow(clippy::cast_possible_truncation)] // A page is a few hundred points.
fn points(length: Mm) -> f32 {
    (length.0 * POINTS / INCH) as f32
}
