//! One label as PNG, a pixel a dot of the printer, with its size.

use super::{LabelError, Plate, Shape};
use crate::Gray;

/// Pixels a metre, of pixels an inch (W3C PNG, 11.3.5.3: the unit is the metre).
fn a_metre(dpi: u32) -> u32 {
    // An inch is 25.4 mm.
    (dpi * 10_000 + 127) / 254
}

impl Plate {
    /// Returns the label as pixels, one a dot, with white around it.
    #[must_use]
    pub fn picture(&self) -> Gray {
        let (width, height) = self.alone();
        let around = self.around();
        let mut pixels = vec![255u8; width * height];
        for shape in self.shapes() {
            ink(&mut pixels, width, shape.moved(around, around));
        }
        Gray::new(width, height, pixels).unwrap_or_else(|| Gray::from_fn(0, 0, |_, _| 255))
    }

    /// Returns the label as a PNG file that says how large it is to be printed.
    ///
    /// # Errors
    ///
    /// [`LabelError::Picture`].
    pub fn png(&self) -> Result<Vec<u8>, LabelError> {
        let picture = self.picture();
        packed(&picture, a_metre(self.dpi().dots()))
            .map_err(|error| LabelError::Picture { what: error.to_string() })
    }
}

fn ink(pixels: &mut [u8], width: usize, shape: Shape) {
    let mut row = |x: usize, y: usize, wide: usize| {
        if let Some(row) = pixels.get_mut(y * width + x..y * width + x + wide) {
            row.fill(0);
        }
    };
    match shape {
        Shape::Block { x, y, width, height } => (y..y + height).for_each(|y| row(x, y, width)),
        Shape::Corner { x, y, side } => {
            (0..side).for_each(|down| row(x - down - 1, y - side + down, down + 1));
        }
    }
}

fn packed(picture: &Gray, a_metre: u32) -> Result<Vec<u8>, png::EncodingError> {
    let mut file = Vec::new();
    let size = |side: usize| u32::try_from(side).unwrap_or(u32::MAX);
    let mut encoder = png::Encoder::new(&mut file, size(picture.width()), size(picture.height()));
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_pixel_dims(Some(png::PixelDimensions {
        xppu: a_metre,
        yppu: a_metre,
        unit: png::Unit::Meter,
    }));
    let mut writer = encoder.write_header()?;
    writer.write_image_data(picture.pixels())?;
    writer.finish()?;
    Ok(file)
}

#[cfg(test)]
mod tests {
    use super::a_metre;

    #[test]
    fn dots_an_inch_become_dots_a_metre() {
        // 300 / 0.0254 = 11811.02; 600 / 0.0254 = 23622.05; 72 / 0.0254 = 2834.65.
        assert_eq!([a_metre(300), a_metre(600), a_metre(72)], [11811, 23622, 2835]);
    }
}
