use rstest::rstest;

use super::made::seen;
use crate::history::{NotJudged, Seen, look};

fn bare(years: f64, offset: f64) -> Seen {
    Seen { standard: None, ..seen(years, offset, 1.0) }
}

#[rstest]
#[case::none(vec![], NotJudged::NoVisits)]
#[case::one(vec![seen(0.0, 1.0, 1.0)], NotJudged::OneVisit)]
#[case::one_time(vec![seen(1.0, 1.0, 1.0), seen(1.0, 2.0, 1.0)], NotJudged::OneTime)]
#[case::clock_set_back(vec![seen(0.0, 1.0, 1.0), seen(2.0, 2.0, 1.0), seen(1.0, 3.0, 1.0)], NotJudged::OutOfOrder { place: 3 })]
#[case::no_number(vec![seen(0.0, 1.0, 1.0), seen(1.0, f64::NAN, 1.0)], NotJudged::NotANumber { place: 2 })]
#[case::no_date(vec![seen(f64::NAN, 1.0, 1.0), seen(1.0, 2.0, 1.0)], NotJudged::NotANumber { place: 1 })]
#[case::endless(vec![seen(0.0, f64::INFINITY, 1.0), seen(1.0, 2.0, 1.0)], NotJudged::NotANumber { place: 1 })]
#[case::negative(vec![seen(0.0, 1.0, -1.0), seen(1.0, 2.0, 1.0)], NotJudged::NotANumber { place: 1 })]
#[case::no_spread(vec![seen(0.0, 1.0, 0.0), seen(1.0, 2.0, 1.0)], NotJudged::NotANumber { place: 1 })]
#[case::two_bare(vec![bare(0.0, 1.0), bare(1.0, 2.0)], NotJudged::NoScatter)]
#[case::one_bare(vec![seen(0.0, 1.0, 1.0), bare(1.0, 2.0), seen(2.0, 2.0, 1.0)], NotJudged::NoUncertainty { place: 2 })]
fn is_not_judged_and_says_why(#[case] visits: Vec<Seen>, #[case] why: NotJudged) {
    let history = look(&visits);
    assert_eq!(history.drift, Err(why));
    assert!(history.steps.is_empty());
}

#[test]
fn a_reason_tells_what_to_do_next() {
    for why in [NotJudged::OneVisit, NotJudged::OneTime, NotJudged::OutOfOrder { place: 3 }] {
        let text = why.to_string();
        assert!(text.starts_with("Not judged: ") && text.matches(['.']).count() == 2, "{text}");
    }
}
