//! Every story can be played through the core to a signed record, and leads to the numbers worked out beside it.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    clippy::print_stderr
)] // In a test a panic is the message.

use anyhow::Result;
use domain::visit::Step;
use kit::{Core, Phone, Story};

/// Reads the number a text begins with, its sign set as typographers set it.
fn leading(text: &str) -> f64 {
    let number: String = text
        .replace('\u{2212}', "-")
        .chars()
        .take_while(|c| c.is_ascii_digit() || "+-.".contains(*c))
        .collect();
    number.parse().unwrap_or_else(|_| panic!("{text:?} does not begin with a number"))
}

fn plays(story: &Story) -> Result<()> {
    let phone = Phone::new()?;
    let core = Core::open(&phone)?;
    core.prepare("Asha Verma")?;
    let id = core.play(story, Step::AsLeft)?;
    let shift = core.phone().visit_open(&id)?.now.shift.expect("As left shows the shift");
    println!("{} {} {} {}", shift.from, shift.to, shift.by, shift.sure);
    let shown = [&shift.from, &shift.to, &shift.by].map(|text| leading(text));
    for (shown, expected) in shown.into_iter().zip(story.shift) {
        assert!((shown - expected).abs() < 0.0051, "{shown} is not {expected}");
    }
    drop(core);

    // On another day: the visit is where it was left.
    let core = Core::open(&phone)?;
    let again = core.play_on(&id, story, Step::Sign)?;
    println!("{}", again.now.verdict.as_ref().map_or("", |verdict| verdict.text.as_str()));
    let record = core.sign(&id, story)?;
    assert_eq!(record.verdict.code, story.verdict, "{}", record.verdict.text);
    assert_eq!(core.phone().home()?.signed.len(), 1);
    Ok(())
}

#[test]
fn dip() -> Result<()> {
    plays(&kit::dip())
}

#[test]
fn known_empty() -> Result<()> {
    plays(&kit::known_empty())
}

#[test]
fn cleared_riser() -> Result<()> {
    plays(&kit::cleared_riser())
}

#[test]
fn vented() -> Result<()> {
    plays(&kit::vented())
}
