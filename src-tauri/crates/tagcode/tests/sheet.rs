//! Labels on paper: what is printed is read, lies where the sheet has its labels, and fits them.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic)] // A test may: a panic is the message.

use rstest::rstest;
use tagcode::sheet::{Dpi, LabelError, Mm, Plate, STOCKS, Shape, Sheets, Stock, stock};
use tagcode::{DrawError, Effort, Gray, Strength, photo, read};

const LINK: &str = "https://id.marrowby.example/i/LT-2041";

fn dpi(dots: u32) -> Dpi {
    Dpi::of(dots).unwrap()
}

/// From as near as a hand holds a phone, so that every sheet will do.
const NEAR: Mm = Mm(90.0);

fn plate(stock: &Stock, dots: u32) -> Plate {
    Plate::on(LINK, "LT-2041", stock, dpi(dots), NEAR).unwrap()
}

fn texts(picture: &Gray) -> Vec<String> {
    read(picture, Effort::Photo, &mut || true).codes.into_iter().map(|code| code.text).collect()
}

#[rstest]
fn a_label_of_every_sheet_is_read_and_fits(#[values(200, 300, 600)] dots: u32) {
    for stock in &STOCKS {
        let plate = plate(stock, dots);
        assert_eq!(texts(&plate.picture()), [LINK], "{} at {dots}", stock.key);
        let (width, height) = plate.size();
        let (wide, high) = (plate.dpi().length(width).0, plate.dpi().length(height).0);
        assert!(
            wide <= stock.label.0.0 - 3.0 && high <= stock.label.1.0 - 3.0,
            "{}: {wide} x {high}",
            stock.key
        );
        assert!(plate.reach() >= NEAR && plate.module().0 * f64::from(dots) / 25.4 > 2.99, "{}", stock.key);
    }
}

#[test]
fn the_farther_it_is_read_from_the_less_is_mended_and_in_the_end_it_is_refused() {
    let place = (Mm(99.1), Mm(67.7));
    let strengths: Vec<Option<Strength>> = (1..9)
        .map(|step| Plate::fit(LINK, "LT-2041", place, dpi(600), Mm(f64::from(step) * 60.0)).ok())
        .map(|plate| plate.map(|plate| plate.strength()))
        .collect();
    // 67.7 mm less 3 are 1528 dots, 99.1 less 3 are 2270. With the frame a code of 37 modules (High) takes 47, and 56 with the
    // tag beneath: 27 dots, 1.143 mm, read from 340 mm. Beside stand 2 + 42 modules more: 91 make 24 dots. Quarter has 33,
    // 43 and 52 modules: 29 dots, read from 365 mm. Medium has 29, 39 and 48: 31 dots, read from 390 mm.
    let (high, quarter) = (Some(Strength::High), Some(Strength::Quarter));
    assert_eq!(strengths, [high, high, high, high, high, quarter, None, None]);
    let error = Plate::fit(LINK, "LT-2041", place, dpi(600), Mm(2_000.0)).unwrap_err();
    let LabelError::TooSmall { reached, wanted, .. } = &error else { panic!("{error}") };
    assert_eq!((*wanted, *reached), (2_000, 390), "{error}");
    // What it says is reached is reached.
    assert!(Plate::fit(LINK, "LT-2041", place, dpi(600), Mm(f64::from(*reached))).is_ok());
}

#[rstest]
#[case::no_tag("", LabelError::Code(DrawError::Empty))]
#[case::spaces("  ", LabelError::Code(DrawError::Empty))]
#[case::kana("水位", LabelError::Letter { tag: "水位".to_owned(), letter: "水".to_owned() })]
#[case::control("LT\u{7}1", LabelError::Letter { tag: "LT\u{27E8}0007\u{27E9}1".to_owned(), letter: "\u{27E8}0007\u{27E9}".to_owned() })]
fn a_tag_that_cannot_be_shown_is_refused(#[case] tag: &str, #[case] expected: LabelError) {
    assert_eq!(Plate::fit(LINK, tag, (Mm(70.0), Mm(37.0)), dpi(300), NEAR), Err(expected));
}

#[test]
fn a_label_of_a_few_millimetres_is_refused_for_its_printer() {
    let error = Plate::fit(LINK, "LT-2041", (Mm(12.0), Mm(12.0)), dpi(200), NEAR).unwrap_err();
    assert!(matches!(error, LabelError::TooCoarse { dpi: 200, .. }), "{error}");
    let nothing = Plate::fit(LINK, "LT-2041", (Mm(-4.0), Mm(0.0)), dpi(200), NEAR).unwrap_err();
    assert!(matches!(nothing, LabelError::TooCoarse { .. }), "{nothing}");
}

#[test]
fn printers_beyond_reason_are_none() {
    assert_eq!([0, 149, 2401].map(Dpi::of), [None; 3]);
}

#[test]
fn a_part_used_sheet_is_used_up_and_the_next_begins_at_its_first_label() {
    let stock = stock("a4-3x8").unwrap();
    let labels = vec![plate(stock, 300); 30];
    let sheets = Sheets::of(stock, 20, labels.clone()).unwrap();
    let places: Vec<Vec<usize>> =
        sheets.pages().iter().map(|page| page.labels.iter().map(|(place, _)| *place).collect()).collect();
    assert_eq!(places, [(19..24).collect::<Vec<_>>(), (0..24).collect(), vec![0]]);
    for first in [0, 25] {
        let refused = Sheets::of(stock, first, labels.clone()).unwrap_err();
        assert_eq!(refused, LabelError::NoPlace { places: 24, first });
    }
    assert_eq!(Sheets::of(stock, 1, Vec::new()).unwrap_err(), LabelError::Nothing);
    let refused = Sheets::of(stock, 1, vec![labels[0].clone(); 2_001]).unwrap_err();
    assert_eq!(refused, LabelError::TooMany { count: 2_001, most: 2_000 });
}

/// The rectangles of a page's only content, in points from the lower left.
fn rectangles(pdf: &[u8]) -> Vec<[f64; 4]> {
    let at = |part: &[u8], from: usize| {
        from + pdf[from..].windows(part.len()).position(|seen| seen == part).unwrap()
    };
    let begin = at(b"stream\n", 0) + 7;
    let end = at(b"\nendstream", begin);
    let content = miniz_oxide::inflate::decompress_to_vec_zlib(&pdf[begin..end]).unwrap();
    let content = String::from_utf8(content).unwrap();
    let numbers = |line: &str| -> Vec<f64> { line.split(' ').filter_map(|word| word.parse().ok()).collect() };
    let lines = content.lines().filter(|line| line.ends_with(" re"));
    lines.map(|line| numbers(line).try_into().unwrap()).collect()
}

#[rstest]
#[case::first("a4-3x7", 1)]
#[case::last("letter-3x10", 30)]
#[case::within("a4-2x4", 4)]
fn a_printed_label_lies_within_its_place(#[case] key: &str, #[case] first: usize) {
    let stock = stock(key).unwrap();
    let pdf = Sheets::of(stock, first, vec![plate(stock, 300)]).unwrap().pdf();
    let rectangles = rectangles(&pdf);
    assert!(rectangles.len() > 200);
    let (left, top) = stock.corner(first - 1).unwrap();
    let point = 72.0 / 25.4;
    let place = (left.0 * point, (stock.page.1.0 - top.0) * point);
    for [x, y, width, height] in rectangles {
        assert!(x > place.0 && x + width < place.0 + stock.label.0.0 * point, "{x} {width}");
        assert!(y + height < place.1 && y > place.1 - stock.label.1.0 * point, "{y} {height}");
        // Whole dots: a three-hundredth of an inch is 0.24 points.
        let dots = width / 0.24;
        assert!((dots - dots.round()).abs() < 1e-3, "{width}");
    }
}

/// What lies nearer is cut off by many printers. The corners filled in the frames lie within these rectangles.
#[rstest]
fn nothing_is_drawn_within_five_millimetres_of_the_page_s_edge(#[values(200, 203, 300, 600)] dots: u32) {
    for stock in &STOCKS {
        let pdf = Sheets::of(stock, 1, vec![plate(stock, dots); stock.places()]).unwrap().pdf();
        let (wide, high) = (stock.page.0.0, stock.page.1.0);
        for [x, y, width, height] in rectangles(&pdf) {
            let [left, lower, right, upper] = [x, y, x + width, y + height].map(|at| at * 25.4 / 72.0);
            let nearest = left.min(lower).min(wide - right).min(high - upper);
            // The file's numbers are rounded to some thousandths of a millimetre.
            assert!(nearest > 4.99, "{} at {dots}: {nearest} mm", stock.key);
        }
    }
}

#[test]
fn the_same_labels_give_the_same_file_whole_and_not_to_be_scaled() {
    let stock = stock("letter-2x5").unwrap();
    let file = || Sheets::of(stock, 3, vec![plate(stock, 600); 12]).unwrap().pdf();
    let pdf = file();
    assert_eq!(pdf, file());
    assert!(pdf.starts_with(b"%PDF-1.") && pdf.trim_ascii_end().ends_with(b"%%EOF"));
    let has = |part: &str| pdf.windows(part.len()).any(|seen| seen == part.as_bytes());
    assert!(has("/PrintScaling /None") && has("/Count 2") && has("/MediaBox [0 0 612 792]"));
}

#[test]
fn a_label_alone_is_a_picture_of_its_size_and_a_drawing_without_letters_of_others() {
    let plate = plate(stock("a4-2x4").unwrap(), 300);
    let file = plate.png().unwrap();
    assert_eq!(photo::decode(&file), Ok(plate.picture()));
    // 11811 pixels a metre both ways, and the unit is the metre (W3C PNG, 11.3.5.3).
    let physical = file.windows(4).position(|part| part == b"pHYs").unwrap() + 4;
    assert_eq!(file[physical..physical + 9], [0, 0, 0x2E, 0x23, 0, 0, 0x2E, 0x23, 1]);
    let svg = plate.svg();
    assert!(svg.starts_with("<svg ") && !svg.contains("<text") && svg.matches("<path").count() == 1);
    let width: f64 = svg.split_once("width=\"").unwrap().1.split_once("mm").unwrap().0.parse().unwrap();
    assert!((width - plate.alone().0 as f64 * 25.4 / 300.0).abs() < 1e-3);
}

/// The smallest module of a public table of the sizes of such labels.
#[test]
fn no_module_is_finer_than_a_quarter_of_a_millimetre() {
    let fitted = |side: f64| Plate::fit(LINK, "LT-2041", (Mm(side), Mm(side)), dpi(1200), Mm(10.0));
    // Medium, 39 modules with the frame and 48 with the tag, and the edges of 1.5 mm: 12 mm and 15.
    assert!(fitted(15.2).unwrap().module() >= Mm(0.25));
    assert!(matches!(fitted(14.8), Err(LabelError::TooSmall { wanted: 74, .. })));
}

#[test]
fn no_ink_lies_in_the_quiet_zone_or_on_other_ink() {
    for stock in &STOCKS {
        let plate = plate(stock, 300);
        let (width, height) = plate.size();
        let mut inked = vec![0u8; width * height];
        for shape in plate.shapes() {
            let Shape::Block { x, y, width: wide, height: high } = shape else { continue };
            for row in y..y + high {
                inked[row * width + x..row * width + x + wide].iter_mut().for_each(|dot| *dot += 1);
            }
        }
        assert!(inked.iter().all(|count| *count < 2), "{}", stock.key);
        let module = (plate.module().0 * 300.0 / 25.4).round() as usize;
        let side = plate.code().side() * module;
        // Line and quiet zone are five modules; the code begins after them.
        let picture = plate.picture();
        let around = (picture.width() - width) / 2;
        let framed = side + 10 * module;
        let beneath = height > framed;
        let left = around + if beneath { (width - framed) / 2 } else { 0 } + module;
        let zone = |at: usize| at < 4 * module || at >= side + 4 * module;
        let inner = side + 8 * module;
        let mut filled = 0;
        for y in 0..inner {
            for x in (0..inner).filter(|x| zone(*x) || zone(y)) {
                // The filled corner has sides of six modules.
                let corner = inner - 1 - x + inner - 1 - y < 6 * module;
                let shade = picture.pixels()[(y + around + module) * picture.width() + left + x];
                assert_eq!(shade, if corner { 0 } else { 255 }, "{}: {x} {y}", stock.key);
                filled += usize::from(corner);
            }
        }
        // A triangle of dots, and none of it on the code.
        assert_eq!(filled, 6 * module * (6 * module + 1) / 2, "{}", stock.key);
    }
}
