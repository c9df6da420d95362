//! Labels from the register to a file: what is printed leads back to its instrument.

use field::view::{CodeOutcome, LabelFile, LabelOrder, LabelsOf};
use rstest::rstest;
use tagcode::{Effort, photo, read};

use crate::desk::Desk;

fn one(tag: &str) -> LabelOrder {
    LabelOrder { labels: LabelsOf::One { tag: tag.into() }, ..order() }
}

fn order() -> LabelOrder {
    LabelOrder {
        labels: LabelsOf::Site { name: "Sedge Hill".into() },
        host: "id.marrowby.example".into(),
        sheet: "a4-2x4".into(),
        first: 1,
        printer: 600,
        distance: 300,
    }
}

#[test]
fn a_printed_label_leads_back_to_its_instrument() {
    let desk = Desk::ready();
    let path = desk.phone.labels_export(&one("LT-2041"), LabelFile::Png).unwrap();
    let picture = photo::decode(&std::fs::read(&path).unwrap()).unwrap();
    let reading = read(&picture, Effort::Photo, &mut || true);
    let CodeOutcome::Found { tag, .. } = desk.phone.find_code(&reading.codes[0].text).unwrap() else {
        panic!("{reading:?}");
    };
    assert_eq!(tag, "LT-2041");
    // The same order again is the same file.
    assert_eq!(desk.phone.labels_export(&one("LT-2041"), LabelFile::Png).unwrap(), path);
}

#[test]
fn what_is_offered_can_be_printed_as_it_is() {
    let desk = Desk::ready();
    let offered = desk.phone.labels().unwrap();
    let listed: u32 = offered.sites.iter().map(|site| site.instruments).sum();
    assert_eq!(listed, desk.phone.home().unwrap().instruments);
    assert_eq!((offered.order.host.as_str(), offered.order.first), ("id.marrowby.example", 1));
    let preview = desk.phone.labels_preview(&offered.order).unwrap();
    let used = preview.places.iter().filter(|place| place.used).count();
    assert_eq!((preview.places.len(), used), (8, offered.sites[0].instruments as usize));
    assert!(preview.ink.starts_with('M') && preview.width > 100 && preview.height > 100);
    let path = desk.phone.labels_export(&offered.order, LabelFile::Pdf).unwrap();
    assert!(path.ends_with(".pdf") && std::fs::read(path).unwrap().starts_with(b"%PDF-"));
}

#[test]
fn the_host_that_was_printed_last_is_offered_again() {
    let desk = Desk::ready();
    let order = LabelOrder { host: " id.other.example ".into(), ..one("LT-2041") };
    let preview = desk.phone.labels_preview(&order).unwrap();
    // The register does not know a code on that host.
    assert!(preview.messages.iter().any(|message| message.code == "labels.not_in_register"));
    assert_eq!(desk.phone.labels().unwrap().order.host, "id.marrowby.example");
    desk.phone.labels_export(&order, LabelFile::Svg).unwrap();
    assert_eq!(desk.restarted().phone.labels().unwrap().order.host, "id.other.example");
}

#[test]
fn a_part_used_sheet_begins_where_it_is_free() {
    let desk = Desk::ready();
    let preview = desk.phone.labels_preview(&LabelOrder { first: 8, ..one("LT-2041") }).unwrap();
    let used: Vec<bool> = preview.places.iter().map(|place| place.used).collect();
    assert_eq!(used, [false, false, false, false, false, false, false, true]);
}

#[rstest]
#[case::no_tag(one(" "), "labels.not_made")]
#[case::other_tag(one("LT-9999"), "instrument.unknown")]
#[case::no_site(LabelOrder { labels: LabelsOf::Site { name: "Nowhere".into() }, ..order() }, "labels.not_made")]
#[case::host(LabelOrder { host: "https://id.example/x".into(), ..order() }, "labels.no_host")]
#[case::no_host(LabelOrder { host: String::new(), ..order() }, "labels.no_host")]
#[case::sheet(LabelOrder { sheet: "a5".into(), ..order() }, "labels.no_sheet")]
#[case::before_the_first(LabelOrder { first: 0, ..order() }, "labels.not_made")]
#[case::behind_the_last(LabelOrder { first: 9, ..order() }, "labels.not_made")]
#[case::printer(LabelOrder { printer: 50, ..order() }, "labels.no_printer")]
#[case::too_far(LabelOrder { distance: 3_000, ..order() }, "labels.not_made")]
#[case::too_small(LabelOrder { sheet: "a4-4x12".into(), ..order() }, "labels.not_made")]
fn what_cannot_be_printed_is_refused_with_a_way_on(#[case] order: LabelOrder, #[case] code: &str) {
    let desk = Desk::ready();
    for error in [
        desk.phone.labels_preview(&order).unwrap_err(),
        desk.phone.labels_export(&order, LabelFile::Pdf).unwrap_err(),
    ] {
        assert_eq!(error.code(), code, "{error}");
        let message = error.message();
        assert!(message.text.len() + message.remedy.len() > 40, "{message:?}");
    }
    assert_eq!(desk.phone.labels().unwrap().order.host, "id.marrowby.example");
}

#[test]
fn a_picture_of_many_labels_is_refused() {
    let desk = Desk::ready();
    let two = LabelOrder { labels: LabelsOf::Site { name: "Tarn Lane".into() }, ..order() };
    assert_eq!(desk.phone.labels_preview(&two).unwrap().lines[0], "2 labels on 1 sheet");
    for file in [LabelFile::Svg, LabelFile::Png] {
        assert_eq!(desk.phone.labels_export(&two, file).unwrap_err().code(), "labels.one_only");
    }
}

#[test]
fn a_phone_without_a_register_offers_sheets_and_nobody_to_print_for() {
    let offered = Desk::new().phone.labels().unwrap();
    assert_eq!((offered.sites.len(), offered.order.host.as_str()), (0, ""));
    assert!(!offered.sheets.is_empty());
}
