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
#[case::one_of_two_bare(vec![seen(0.0, 1.0, 1.0), bare(1.0, 2.0)], NotJudged::NoUncertainty { place: 2 })]
#[case::one_bare(vec![seen(0.0, 1.0, 1.0), bare(1.0, 2.0), seen(2.0, 2.0, 1.0)], NotJudged::NoUncertainty { place: 2 })]
fn is_not_judged_and_says_why(#[case] visits: Vec<Seen>, #[case] why: NotJudged) {
    let history = look(&visits);
    assert_eq!(history.drift, Err(why));
    assert!(history.steps.is_empty());
}

fn moved(visit: Seen) -> Seen {
    Seen { moved: true, ..visit }
}

/// Two visits before the transmitter was moved do not count, but their places do: the person counts all visits.
#[rstest]
#[case::no_number([seen(3.0, 1.0, 1.0), seen(4.0, f64::NAN, 1.0), seen(5.0, 1.0, 1.0)], NotJudged::NotANumber { place: 4 })]
#[case::clock_set_back([seen(3.0, 1.0, 1.0), seen(5.0, 1.0, 1.0), seen(4.0, 1.0, 1.0)], NotJudged::OutOfOrder { place: 5 })]
#[case::one_bare([seen(3.0, 1.0, 1.0), seen(4.0, 1.0, 1.0), bare(5.0, 1.0)], NotJudged::NoUncertainty { place: 5 })]
fn a_bad_visit_is_named_by_its_place_among_all(#[case] after: [Seen; 3], #[case] why: NotJudged) {
    let [first, rest @ ..] = after;
    let mut visits = vec![seen(0.0, 9.0, 1.0), seen(1.0, 8.0, 1.0), moved(first)];
    visits.extend(rest);
    let history = look(&visits);
    assert_eq!((history.since, history.drift), (2, Err(why)));
}

/// A billionth of a year is a thirtieth of a second; an hour is enough, however well each visit is known.
#[test]
fn visits_in_one_moment_make_no_line() {
    let drift = |years: f64| look(&[seen(0.0, 1.0, 0.001), seen(years, 2.0, 0.001)]).drift;
    assert_eq!(drift(1e-9), Err(NotJudged::TooClose));
    assert!(drift(1e-4).is_ok());
}

/// Three without an uncertainty show their scatter: 0, 3, 0 lie on a level line of 1 and leave -1, 2, -1, whose squares are 6 on one
/// free; the slope's variance is 6 over the 2 of the years' squares.
#[test]
fn three_bare_visits_are_as_sure_as_they_scatter() {
    let drift = look(&[bare(0.0, 0.0), bare(1.0, 3.0), bare(2.0, 0.0)]).drift.unwrap();
    assert!((drift.standard.value - 3.0_f64.sqrt()).abs() < 1e-9, "{drift:?}");
    assert!((drift.freedom - 1.0).abs() < 1e-12);
}

#[test]
fn a_reason_tells_what_to_do_next() {
    for why in [NotJudged::OneVisit, NotJudged::OneTime, NotJudged::OutOfOrder { place: 3 }] {
        let text = why.to_string();
        assert!(text.starts_with("Not judged: ") && text.matches(['.']).count() == 2, "{text}");
    }
}
