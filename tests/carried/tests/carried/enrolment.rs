//! Enrolment, and what one-time codes are good for.

use carried::{Hub, Phone, Proxy};
use carry::http::EnrolError;

fn is_spent(error: &anyhow::Error) -> bool {
    matches!(error.downcast_ref(), Some(EnrolError::CodeSpent))
}

#[test]
fn a_code_that_was_used_enrols_no_second_phone() {
    let hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let (asha, thief) = (Phone::new("asha").unwrap(), Phone::new("thief").unwrap());
    let code = hub.invitation("asha").unwrap();
    let digits = asha.ask_with(&code, &by).unwrap();
    let error = thief.ask_with(&code, &by).unwrap_err();
    assert!(is_spent(&error), "{error}");

    // The phone that came first is confirmed by its digits, and by no others.
    let others: String = digits.chars().map(|digit| if digit == '9' { '0' } else { '9' }).collect();
    hub.confirm(&others).unwrap_err();
    asha.confirmed(&by).unwrap_err();
    hub.confirm(&digits).unwrap();
    asha.confirmed(&by).unwrap();
    let error = thief.ask_with(&code, &by).unwrap_err();
    assert!(is_spent(&error), "{error}");
    // Who confirmed it stands in a record.
    let log: String = asha.log().unwrap().0.iter().map(|byte| format!("{byte:02x}")).collect();
    let changes = hub.call(&["changes"]).unwrap();
    let confirmed = format!("Tom Achterberg: phone {log} was confirmed");
    assert!(changes.lines().next().unwrap().ends_with(&confirmed), "{changes}");
}

#[test]
fn a_code_is_good_for_ten_minutes_by_the_hubs_clock() {
    let mut hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let asha = Phone::new("asha").unwrap();
    let code = hub.invitation("asha").unwrap();
    // Nobody waits ten minutes here: the code is made older where the hub keeps it.
    hub.stop().unwrap();
    let file = hub.folder().join("hub.db");
    let data = rusqlite::Connection::open(&file).unwrap();
    let aged = data.execute("UPDATE token SET expires = expires - 600001 WHERE purpose = 2", []).unwrap();
    assert_eq!(aged, 1);
    drop(data);
    hub.serve().unwrap();
    let error = asha.ask_with(&code, &by).unwrap_err();
    assert!(is_spent(&error), "{error}");
}
