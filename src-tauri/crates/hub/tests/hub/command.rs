//! The program itself, as whoever looks after a hub uses it.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};

use tempfile::TempDir;

const PASSPHRASE: &str = "sluice copper lantern moor";

struct Place {
    folder: TempDir,
}

impl Place {
    /// A place with a hub in it.
    fn with_hub() -> Place {
        let place = Place { folder: tempfile::tempdir().unwrap() };
        let file = place.file("passphrase", PASSPHRASE);
        let made = place.hub(
            "hub",
            &[
                "init",
                "--label",
                "Marrowby",
                "--address",
                "https://localhost:8443",
                "--passphrase-file",
                &file,
            ],
        );
        assert!(made.status.success(), "{}", said(&made));
        place
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn file(&self, name: &str, text: &str) -> String {
        let path = self.path(name);
        std::fs::write(&path, text).unwrap();
        path.display().to_string()
    }

    fn command(&self, folder: &str, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_headmark-hub"));
        command.arg("--folder").arg(self.path(folder)).args(arguments).stdin(Stdio::null());
        command.env_remove("HEADMARK_HUB_DATABASE").env_remove("HEADMARK_HUB_PHOTOS");
        command
    }

    fn hub(&self, folder: &str, arguments: &[&str]) -> Output {
        self.command(folder, arguments).output().unwrap()
    }
}

fn said(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

/// A hub that runs, and where.
struct Running {
    child: Child,
    at: String,
}

impl Running {
    fn start(place: &Place, folder: &str) -> Running {
        let mut command = place.command(folder, &["serve", "--listen", "127.0.0.1:0"]);
        let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        let mut line = String::new();
        BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
        let at = line.trim().strip_prefix("Listening at ").unwrap_or_else(|| panic!("{line}")).to_owned();
        Running { child, at }
    }

    fn signal(&self, name: &str) {
        let killed = Command::new("kill").args([name, &self.child.id().to_string()]).status().unwrap();
        assert!(killed.success());
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[test]
fn a_new_hub_tells_to_move_the_organisation_key_away() {
    let place = Place::with_hub();
    let again = place.hub(
        "hub",
        &[
            "init",
            "--label",
            "x",
            "--address",
            "https://h",
            "--passphrase-file",
            &place.file("p", PASSPHRASE),
        ],
    );
    assert!(!again.status.success() && said(&again).contains("holds a hub already"), "{}", said(&again));
    let key = std::fs::read_to_string(place.path("hub/organisation.key")).unwrap();
    assert!(key.contains("headmark-sealed-key/1") && key.contains("\"memory\": 65536"), "{key}");
    let status = place.hub("hub", &["status"]);
    assert!(
        status.status.success() && said(&status).contains("Marrowby at https://localhost:8443"),
        "{}",
        said(&status)
    );
}

#[test]
fn a_database_that_holds_a_hub_becomes_no_other() {
    let place = Place::with_hub();
    let before = said(&place.hub("hub", &["status"]));
    // A folder beside it with the same database, and nothing else of that hub.
    std::fs::create_dir(place.path("beside")).unwrap();
    std::fs::rename(place.path("hub/hub.db"), place.path("beside/hub.db")).unwrap();
    let file = place.path("passphrase").display().to_string();
    let other = ["init", "--label", "x", "--address", "https://h", "--passphrase-file", &file];
    let made = place.hub("beside", &other);
    assert!(!made.status.success() && said(&made).contains("holds a hub already"), "{}", said(&made));
    assert!(!place.path("beside/organisation.key").exists() && !place.path("beside/keys/hub.key").exists());
    std::fs::rename(place.path("beside/hub.db"), place.path("hub/hub.db")).unwrap();
    assert_eq!(said(&place.hub("hub", &["status"])), before);
}

#[test]
fn a_hub_that_starts_drops_pieces_that_nobody_waits_for() {
    let place = Place::with_hub();
    let stray = place.path("hub/photos/pieces").join("ab".repeat(32)).join("5/0");
    std::fs::create_dir_all(stray.parent().unwrap()).unwrap();
    std::fs::write(&stray, "stray").unwrap();
    let _running = Running::start(&place, "hub");
    for _ in 0..500 {
        if !stray.exists() {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    panic!("the piece still lies there");
}

#[test]
fn a_weak_passphrase_makes_no_hub() {
    let place = Place { folder: tempfile::tempdir().unwrap() };
    for weak in ["", "short", "aaaaaaaaaaaaaaaa"] {
        let file = place.file("weak", weak);
        let made =
            place.hub("hub", &["init", "--label", "x", "--address", "https://h", "--passphrase-file", &file]);
        assert!(!made.status.success() && said(&made).contains("Choose"), "{}", said(&made));
        assert!(!place.path("hub").exists());
    }
}

#[test]
fn an_address_that_no_code_holds_makes_no_hub() {
    let place = Place { folder: tempfile::tempdir().unwrap() };
    let file = place.file("passphrase", PASSPHRASE);
    // One letter beyond what a phone takes up of a code.
    let address = format!("https://{}", "hub.".repeat(80).split_at(293).0);
    let made = place.hub("hub", &["init", "--label", "x", "--address", &address, "--passphrase-file", &file]);
    let said = said(&made);
    assert!(
        !made.status.success() && said.contains("301 letters") && said.contains("shorter name"),
        "{said}"
    );
    assert!(!place.path("hub").exists());
}

#[test]
fn a_dry_run_names_what_is_bad_and_takes_nothing() {
    let place = Place::with_hub();
    let register = demo();
    let good = register.display().to_string();
    let bad = std::fs::read_to_string(&register).unwrap().replacen("31 ft 4 in", "31", 1);
    let bad = place.file("bad.json", &bad);
    let dry = place.hub("hub", &["import", &bad, "--dry-run"]);
    assert!(!dry.status.success() && said(&dry).contains("Line 1 (LT-2041), column riser"), "{}", said(&dry));
    let taken = place.hub("hub", &["import", &bad]);
    assert!(!taken.status.success() && said(&taken).contains("Nothing was taken"), "{}", said(&taken));
    let some = place.hub("hub", &["import", &bad, "--good-rows"]);
    assert!(said(&some).contains("4 instruments came in"), "{}", said(&some));
    let all = place.hub("hub", &["import", &good, "--area", "site.name"]);
    assert!(all.status.success() && said(&all).contains("1 instruments came in"), "{}", said(&all));
}

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../demo/data/register.json")
}

#[test]
fn a_second_server_on_one_folder_is_refused_and_commands_go_on() {
    let place = Place::with_hub();
    let first = Running::start(&place, "hub");
    let second = place.hub("hub", &["serve", "--listen", "127.0.0.1:0"]);
    assert!(
        !second.status.success() && said(&second).contains("Another hub process uses"),
        "{}",
        said(&second)
    );
    let added = place.hub("hub", &["person", "add", "Ada", "--no-sign-in"]);
    assert!(added.status.success(), "{}", said(&added));
    let offered = place.hub("hub", &["enrol", "--person", "Ada", "--no-wait"]);
    assert!(
        said(&offered).contains("headmark-enrol:1?hub=https://localhost:8443&organisation="),
        "{}",
        said(&offered)
    );
    assert!(first.at.starts_with("https://127.0.0.1:"));
}

#[test]
fn told_to_end_it_ends_well() {
    let place = Place::with_hub();
    let mut running = Running::start(&place, "hub");
    running.signal("-TERM");
    let status = running.child.wait().unwrap();
    assert!(status.success(), "{status}");
    let mut log = String::new();
    std::io::Read::read_to_string(&mut running.child.stderr.take().unwrap(), &mut log).unwrap();
    for line in log.lines() {
        let line: serde_json::Value =
            serde_json::from_str(line).unwrap_or_else(|error| panic!("{error}: {line}"));
        assert!(line["timestamp"].is_string() && line["level"].is_string());
    }
    assert!(log.contains("closes"), "{log}");
}

#[test]
fn a_backup_becomes_a_hub_of_a_new_epoch_with_the_organisation_key_only() {
    let place = Place::with_hub();
    let imported = place.hub("hub", &["import", &demo().display().to_string()]);
    assert!(imported.status.success(), "{}", said(&imported));
    place.hub("hub", &["person", "add", "Ada", "--no-sign-in"]);
    let (backup, key) = (
        place.path("backup").display().to_string(),
        place.path("hub/organisation.key").display().to_string(),
    );
    let made = place.hub("hub", &["backup", &backup]);
    assert!(made.status.success(), "{}", said(&made));
    assert!(!place.path("backup/keys/hub.key").exists(), "the hub's own key is in no backup");
    let wrong = place.file("wrong", "another passphrase entirely");
    let refused =
        place.hub("new", &["restore", &backup, "--organisation", &key, "--passphrase-file", &wrong]);
    assert!(
        !refused.status.success() && said(&refused).contains("passphrase does not open"),
        "{}",
        said(&refused)
    );
    let right = place.file("right", PASSPHRASE);
    let restored =
        place.hub("new", &["restore", &backup, "--organisation", &key, "--passphrase-file", &right]);
    assert!(restored.status.success(), "{}", said(&restored));
    let (old, new) = (said(&place.hub("hub", &["status"])), said(&place.hub("new", &["status"])));
    let line = |text: &str, name: &str| text.lines().find(|line| line.starts_with(name)).unwrap().to_owned();
    assert_eq!(line(&old, "organisation"), line(&new, "organisation"));
    assert_ne!(line(&old, "epoch"), line(&new, "epoch"));
    assert_ne!(line(&old, "hub log"), line(&new, "hub log"));
    assert!(said(&place.hub("new", &["person", "list"])).contains("Ada"));
    until_the_phones_are_looked_through(&place, &said(&restored), &new);
    // The organisation's log goes on: two certificates, one behind the other, the second naming the first hub.
    let file = place.path("all.bundle").display().to_string();
    let exported = place.hub("new", &["export", &file]);
    assert!(exported.status.success(), "{}", said(&exported));
    let verified = place.hub("new", &["verify", &file]);
    assert!(
        // Both tables of the import and the person are records of the first hub's log, the looking through of the second's.
        verified.status.success() && said(&verified).contains("6 records of 3 logs"),
        "{}",
        said(&verified)
    );
}

/// What a hub that was restored as `new` says until somebody has looked through its phones.
fn until_the_phones_are_looked_through(place: &Place, restored: &str, status: &str) {
    let missing = "RESTORED: revocations since 20";
    for words in [
        missing,
        "No phone is enrolled here.",
        "headmark-hub revoke LOG",
        "phones --looked-through --by NAME",
    ] {
        assert!(restored.contains(words), "{words}: {restored}");
    }
    let list = |arguments: &[&str]| place.hub("new", arguments);
    for told in [status, &said(&list(&["phones"]))] {
        assert!(told.contains(missing) && told.contains("`headmark-hub phones"), "{told}");
    }
    for refused in [&["--looked-through"][..], &["--by", "Ada"], &["--looked-through", "--by", "Nobody"]] {
        let said = list(&[&["phones"], refused].concat());
        assert!(!said.status.success(), "{refused:?}");
    }
    assert!(said(&list(&["status"])).contains(missing), "nothing was looked through");
    let looked = list(&["phones", "--looked-through", "--by", "Ada"]);
    assert!(looked.status.success() && said(&looked).contains("Written down"), "{}", said(&looked));
    for command in ["status", "phones"] {
        let told = said(&list(&[command]));
        assert!(!told.contains("RESTORED"), "{told}");
    }
    let again = list(&["phones", "--looked-through", "--by", "Ada"]);
    assert!(!again.status.success() && said(&again).contains("Nothing waits"), "{}", said(&again));
    let changes = said(&list(&["changes"]));
    assert!(changes.contains("Ada: the phones were looked through after the hub was restored"), "{changes}");
}

/// The lines of a list that say when, without the moment; and the hub's log.
fn listed(place: &Place) -> Vec<String> {
    let list = place.hub("hub", &["changes"]);
    assert!(list.status.success(), "{}", said(&list));
    let lines =
        said(&list).lines().filter(|line| line.starts_with("20")).map(str::to_owned).collect::<Vec<_>>();
    lines.into_iter().map(|line| line[16..].split_once("  ").unwrap().1.to_owned()).collect()
}

#[test]
fn what_is_changed_is_listed_newest_first_and_is_in_an_export_without_a_name() {
    let place = Place::with_hub();
    let password = place.file("password", "three dry words");
    let register = demo().display().to_string();
    let does = |arguments: &[&str]| {
        let done = place.hub("hub", arguments);
        assert!(done.status.success(), "{arguments:?}: {}", said(&done));
        said(&done)
    };
    assert!(does(&["changes"]).contains("Nothing was changed"));
    let newest = || said(&place.hub("hub", &["status"])).lines().nth(4).unwrap().to_owned();
    let before = newest();
    does(&["import", &register, "--dry-run"]);
    let nobody = place.hub("hub", &["import", &register, "--by", "Nobody"]);
    assert!(!nobody.status.success() && said(&nobody).contains("person list"), "{}", said(&nobody));
    assert_eq!((newest(), listed(&place)), (before, Vec::new()), "neither leaves a record");

    let by = ["--by", "Ada Quarmby"];
    let ben = "Ben Lund-Oyelaran";
    does(&["person", "add", "Ada Quarmby", "--role", "administer", "--password-file", &password]);
    does(&["import", &register]);
    does(&[&["import", &register, "--area", "site.name"], &by[..]].concat());
    does(&[&["person", "add", "Ben Lund", "--no-sign-in"], &by[..]].concat());
    does(&[&["person", "rename", "Ben Lund", ben], &by[..]].concat());
    does(&[&["person", "role", ben, "supervise"], &by[..]].concat());
    assert!(does(&["person", "role", ben, "supervise"]).contains("so already"));
    does(&["person", "password", ben, "--password-file", &password]);
    does(&["person", "password", ben, "--none"]);
    let lines = [
        format!("at the machine: {ben} signs in no more"),
        format!("at the machine: {ben} was given another password"),
        format!("Ada Quarmby: {ben} was given the role supervise"),
        format!("Ada Quarmby: {ben} was given another name"),
        format!("Ada Quarmby: {ben} was written down: read, does not sign in"),
        "Ada Quarmby: instruments came from a file: 0 new, 0 changed, 5 went to another area, 0 taken out; number 5 to 15"
            .to_owned(),
        "at the machine: sensors came from a file: 5 new, 0 changed, 0 taken out; number 0 to 1".to_owned(),
        "at the machine: instruments came from a file: 5 new, 0 changed, 0 went to another area, 0 taken out; number 0 to 5"
            .to_owned(),
        "at the machine: Ada Quarmby was written down: administer, signs in".to_owned(),
    ];
    assert_eq!(listed(&place), lines);
    does(&["person", "remove", ben]);
    let number = |line: &str| line.contains("person ") && line.ends_with(" was erased");
    assert!(number(&listed(&place)[0]) && !does(&["changes"]).contains("Ben Lund"), "{}", does(&["changes"]));
    let file = std::fs::read(demo()).unwrap();
    let hash: [u8; 32] = sha2::Digest::finalize(<sha2::Sha256 as sha2::Digest>::new_with_prefix(file)).into();
    assert!(does(&["changes"]).contains(&hub::names::hex(&hash)), "{}", does(&["changes"]));

    let status = does(&["status"]);
    let log = status.lines().find_map(|line| line.strip_prefix("hub log      ")).unwrap();
    let export = place.path("hub.headmark").display().to_string();
    does(&["export", &export, "--log", log]);
    assert!(does(&["verify", &export]).contains("10 records of 1 logs"));
    let bytes = std::fs::read(&export).unwrap();
    let holds = |text: &str| bytes.windows(text.len()).any(|part| part == text.as_bytes());
    assert!(holds("person_renamed") && holds("person_erased"));
    for personal in ["Quarmby", "Ben Lund", "Lund", "Oyelaran", "argon2", "three dry"] {
        assert!(!holds(personal), "{personal}");
    }
}

#[test]
fn nothing_says_what_to_do_next_in_vain() {
    let place = Place { folder: tempfile::tempdir().unwrap() };
    for (arguments, words) in [
        (vec!["status"], "headmark-hub init"),
        (vec!["serve"], "headmark-hub init"),
        (vec!["verify", "nowhere"], "Check its name"),
    ] {
        let output = place.hub("none", &arguments);
        assert!(
            !output.status.success() && said(&output).contains(words),
            "{arguments:?}: {}",
            said(&output)
        );
    }
}
