//! A new phone asks who works with it and then shows its first screen; opened again it knows.

use anyhow::Result;
use journeys::journey;
use kit::Phone;

#[tokio::test]
async fn a_new_phone_asks_for_a_name_and_opens_at_home_from_then_on() -> Result<()> {
    journey("opens", Phone::new()?, async |app| {
        app.screen()?.signs_on("Asha Verma").await?;
        app.restart().await?;
        app.screen()?.sees("home-screen").await?;
        assert_eq!(app.screen()?.reads("technician-now").await?, "Asha Verma");
        Ok(())
    })
    .await
}
