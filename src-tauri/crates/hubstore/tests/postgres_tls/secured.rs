//! The server, made to speak TLS: with some users by TLS only, with one by a password.

use std::os::unix::fs::{MetadataExt, PermissionsExt, chown};
use std::path::{Path, PathBuf};
use std::str::FromStr;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;

use deadpool_postgres::tokio_postgres::{Client, Config, NoTls, connect};
use hubstore::Connecting;
use tokio::sync::{OnceCell, RwLock};

use crate::certificates::certificates;

/// Held for reading by tests that need the server as it is, and for writing by the one that changes it.
pub(crate) static SPEAKS: RwLock<()> = RwLock::const_new(());

const WHO_MAY_COME: &str = "
local   all all trust
host    all headmark 127.0.0.1/32 trust
hostssl all sealed   127.0.0.1/32 trust
hostssl all bound    127.0.0.1/32 scram-sha-256
";

pub(crate) struct Secured {
    /// Where whoever looks after the server comes in, plainly.
    address: String,
    pub(crate) port: u16,
}

static NEXT: AtomicU32 = AtomicU32::new(1);

impl Secured {
    /// The server of this process.
    pub(crate) async fn server() -> &'static Secured {
        static SERVER: OnceCell<Secured> = OnceCell::const_new();
        SERVER.get_or_init(Secured::make).await
    }

    async fn make() -> Secured {
        let variable = |name: &str| {
            std::env::var(name).unwrap_or_else(|_| {
                panic!(
                    "{name} is not set. Start a server together with the tests: tests/lib/postgres.sh COMMAND"
                )
            })
        };
        let (address, data) =
            (variable("HEADMARK_TEST_POSTGRES"), PathBuf::from(variable("HEADMARK_TEST_POSTGRES_DATA")));
        let port = Config::from_str(&address).unwrap().get_ports()[0];
        let shown = &certificates().server;
        put(&data, "server.crt", &shown.certificate);
        put(&data, "server.key", &shown.key);
        put(&data, "pg_hba.conf", WHO_MAY_COME);
        let server = Secured { address, port };
        let client = server.client().await;
        for user in ["sealed", "bound"] {
            let role = format!("CREATE ROLE {user} LOGIN PASSWORD 'dry words'");
            client.batch_execute(&role).await.unwrap();
            client.batch_execute(&format!("GRANT CREATE ON DATABASE postgres TO {user}")).await.unwrap();
        }
        server.speak_tls(true).await;
        server
    }

    /// Switches TLS on or off, for all who connect from then on.
    pub(crate) async fn speak_tls(&self, on: bool) {
        let word = if on { "on" } else { "off" };
        let client = self.client().await;
        client.batch_execute(&format!("ALTER SYSTEM SET ssl = {word}")).await.unwrap();
        client.batch_execute("SELECT pg_reload_conf()").await.unwrap();
        for _ in 0..200 {
            let said = self.client().await.query_one("SHOW ssl", &[]).await.unwrap();
            if said.get::<_, &str>(0) == word {
                return;
            }
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
        panic!("the server did not switch TLS {word}");
    }

    /// Speaks to the server past the store, plainly.
    pub(crate) async fn client(&self) -> Client {
        let (client, connection) = connect(&self.address, NoTls).await.unwrap();
        tokio::spawn(connection);
        client
    }

    /// Connects to the server under a name, asking for what stands behind the question mark, into tables of its own.
    pub(crate) fn connecting(&self, user: &str, host: &str, asks: &str) -> Connecting {
        connecting(user, host, self.port, asks)
    }
}

/// The same at another port.
pub(crate) fn connecting(user: &str, host: &str, port: u16, asks: &str) -> Connecting {
    let made = certificates();
    let files = [
        ("AUTHORITY", &made.authority_file),
        ("NAMESAKE", &made.namesake_file),
        ("STRANGER", &made.stranger_file),
    ];
    let named =
        |asks: String, (word, file): (&str, &PathBuf)| asks.replace(word, &file.display().to_string());
    let asks = files.into_iter().fold(asks.to_owned(), named);
    let schema = format!("t{}_{}", std::process::id(), NEXT.fetch_add(1, Ordering::Relaxed));
    let address = format!("postgres://{user}@{host}:{port}/postgres?hostaddr=127.0.0.1&{asks}");
    Connecting::to(&address).schema(&schema).connections(3)
}

/// Writes a file that is the server's alone.
fn put(data: &Path, name: &str, text: &str) {
    let (path, owner) = (data.join(name), std::fs::metadata(data).unwrap());
    std::fs::write(&path, text).unwrap();
    std::fs::set_permissions(&path, PermissionsExt::from_mode(0o600)).unwrap();
    chown(&path, Some(owner.uid()), Some(owner.gid())).unwrap();
}
