//! The plan of an instrument, read before the visit and left again.

use anyhow::{Context, Result, ensure};
use journeys::{journey, prepared};

/// Reads the number a text begins with.
fn leading(text: &str) -> Result<f64> {
    let number: String = text.chars().take_while(|c| c.is_ascii_digit() || "+-.".contains(*c)).collect();
    number.parse().with_context(|| format!("{text:?} does not begin with a number"))
}

/// 31 ft 4 in of riser and 26 ft of span, water of 52 degF: 13.55 psi at 0 % and 24.80 psi at 100 %, reckoned by hand
/// with 9784.5 Pa a metre.
#[tokio::test]
async fn a_tower_is_planned_and_the_way_leads_back_to_the_visit() -> Result<()> {
    journey("plan", prepared()?, async |app| {
        let screen = app.screen()?;
        screen.types_tag("2041", "LT-2041").await?;
        screen.press("plan-open").await?;
        screen.sees("plan").await?;
        for (name, psi) in [("plan-at-zero", 13.55), ("plan-at-full", 24.80)] {
            let shown = screen.reads(name).await?;
            ensure!((leading(&shown)? - psi).abs() < 0.011, "{name} shows {shown:?}, not {psi} psi");
        }
        for (name, feet) in [
            ("lrv-trimmed", 0.0),
            ("urv-trimmed", 26.0),
            ("offset-trimmed", -31.33),
            ("lrv-raw", 31.33),
            ("urv-raw", 57.33),
        ] {
            let shown = screen.reads(name).await?;
            ensure!((leading(&shown)? - feet).abs() < 0.0051, "{name} shows {shown:?}, not {feet} ft");
        }
        let best = screen.attribute("sensor-0", "data-fits").await?;
        ensure!(best.as_deref() == Some("yes"), "the first sensor fits: {best:?}");
        let worst = screen.attribute("sensor-5", "data-fits").await?;
        ensure!(worst.as_deref() == Some("no"), "the last sensor does not fit: {worst:?}");
        ensure!(screen.reads("left-headline").await?.contains("over the year"));
        screen.press("plan-back").await?;
        screen.sees("confirm").await?;
        screen.begins_visit().await
    })
    .await
}
