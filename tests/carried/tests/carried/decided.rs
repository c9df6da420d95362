//! What a supervisor decides at the hub, from the list to the phone that it concerns.

use carried::{Hub, Phone, Proxy};
use domain::visit::Step;
use field::view::CodeOutcome;

const CODE: &str = "MDW/ASSET/40117";

fn link(phone: &Phone, tag: &str) {
    let core = phone.core().phone();
    let code = match core.find_code(CODE).unwrap() {
        CodeOutcome::Unknown { code, .. } | CodeOutcome::Found { code, .. } => code,
        other => panic!("{other:?}"),
    };
    core.link(tag, &code).unwrap();
}

/// The names of the records in a list: each stands on a line of its own.
fn names(list: &str) -> Vec<String> {
    let words = list.lines().filter_map(|line| line.split_whitespace().next());
    words.filter(|word| word.len() > 130 && word.matches('-').count() == 2).map(str::to_owned).collect()
}

fn said(phone: &Phone, tag: &str) -> Vec<String> {
    let view = phone.core().phone().instrument(tag).unwrap();
    view.messages.into_iter().map(|message| message.code).collect()
}

#[test]
fn two_proposals_stand_side_by_side_until_one_is_accepted_and_one_declined() {
    let hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let phones = ["asha", "ben"].map(|name| Phone::new(name).unwrap());
    for (phone, tag) in phones.iter().zip(["LT-3107", "LT-2041"]) {
        phone.enrol(&hub, &by).unwrap();
        phone.exchange(&by).unwrap();
        link(phone, tag);
        phone.exchange(&by).unwrap();
    }
    let list = hub.call(&["proposals"]).unwrap();
    let [first, second] = names(&list).try_into().unwrap_or_else(|_| panic!("{list}"));
    assert!(list.contains("LT-3107: the code MDW/ASSET/40117") && list.contains("2 to be decided"), "{list}");
    for rival in [&first, &second] {
        assert!(list.contains(&format!("something else: {rival}")), "{list}");
    }
    let by_whom = ["--by", "Tom Achterberg"];
    let decide = |name: &str, word: &str, note: &str| {
        hub.call(&[&["review", name, word, "--note", note], &by_whom[..]].concat())
    };
    let silent = decide(&second, "declined", "").unwrap_err();
    assert!(silent.to_string().contains("Say why"), "{silent}");
    let said_no = decide(&second, "declined", "It is on the mast of LT-3107.").unwrap();
    assert!(said_no.contains("Declined"), "{said_no}");
    let said_yes = decide(&first, "accepted", "").unwrap();
    assert!(said_yes.contains("Accepted"), "{said_yes}");
    let none = hub.call(&["proposals"]).unwrap();
    assert!(none.contains("No proposal waits"), "{none}");

    for phone in &phones {
        phone.exchange(&by).unwrap();
    }
    let [asha, ben] = &phones;
    assert_eq!((said(asha, "LT-3107"), said(ben, "LT-2041")), (vec![], vec!["proposal.declined".to_owned()]));
    // Accepted, it is the register's on both phones, and not pending on either.
    for phone in &phones {
        let view = phone.core().phone().instrument("LT-3107").unwrap();
        let codes: Vec<_> = view.codes.iter().map(|line| (line.code.as_str(), line.pending)).collect();
        assert!(codes.contains(&(CODE, false)), "{}: {codes:?}", phone.name());
    }
    let home = ben.core().phone().home().unwrap();
    assert!(home.answers[0].message.text.contains("It is on the mast of LT-3107."), "{:?}", home.answers);
}

#[test]
fn a_visit_that_is_returned_is_shown_where_it_was_made() {
    let hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let asha = Phone::new("asha").unwrap();
    asha.enrol(&hub, &by).unwrap();
    asha.exchange(&by).unwrap();
    let story = kit::dip();
    let id = asha.core().play(&story, Step::Sign).unwrap();
    let record = asha.core().sign(&id, &story).unwrap();
    asha.exchange(&by).unwrap();
    let list = hub.call(&["visits", "--undecided"]).unwrap();
    let [name] = names(&list).try_into().unwrap_or_else(|_| panic!("{list}"));
    hub.call(&["review", &name, "accepted", "--by", "Tom Achterberg"]).unwrap_err();
    hub.call(&["review", &name, "returned", "--note", "No photo of the mark.", "--by", "Tom Achterberg"])
        .unwrap();
    let list = hub.call(&["visits"]).unwrap();
    assert!(list.contains("returned: No photo of the mark."), "{list}");
    assert_eq!(names(&hub.call(&["visits", "--undecided"]).unwrap()), Vec::<String>::new());
    asha.exchange(&by).unwrap();
    let shown = asha.core().phone().record(&record.id).unwrap().decision.unwrap();
    assert!(shown.code == "review.returned" && shown.text.contains("No photo of the mark."), "{shown:?}");
    assert_eq!(asha.core().phone().home().unwrap().answers.len(), 1);
}
