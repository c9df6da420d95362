//! A server that stops speaking TLS.

use std::io;
use std::sync::{Arc, Mutex};

use hubstore::{Error, Ledger};
use tracing_subscriber::fmt::MakeWriter;

use crate::certificates::NAME;
use crate::secured::{SPEAKS, Secured};

/// What was logged.
#[derive(Debug, Clone, Default)]
struct Noted(Arc<Mutex<Vec<u8>>>);

impl Noted {
    fn warns(&self) -> bool {
        let text = String::from_utf8(self.0.lock().unwrap().clone()).unwrap();
        text.lines().any(|line| line.contains("WARN") && line.contains("is not private"))
    }
}

impl io::Write for Noted {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.lock().unwrap().extend(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl MakeWriter<'_> for Noted {
    type Writer = Noted;

    fn make_writer(&self) -> Noted {
        self.clone()
    }
}

#[tokio::test]
async fn what_was_private_stays_so_and_what_never_was_is_said() {
    let (server, _alone) = (Secured::server().await, SPEAKS.write().await);
    let noted = Noted::default();
    let subscriber = tracing_subscriber::fmt().with_writer(noted.clone()).finish();
    let _noting = tracing::subscriber::set_default(subscriber);
    let prefers = || server.connecting("headmark", NAME, "sslmode=prefer");
    let store = prefers().open().await.unwrap();
    assert!(!noted.warns());

    server.speak_tls(false).await;
    // Connections that stand go on; as after a restart there is none.
    let end =
        "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE application_name = 'headmark-hub'";
    server.client().await.batch_execute(end).await.unwrap();
    let error = store.newest().await.unwrap_err();
    assert!(matches!(error, Error::NotPrivate { .. }) && error.to_string().contains("no TLS"), "{error}");
    let error = server.connecting("headmark", NAME, "sslmode=require").open().await.unwrap_err();
    assert!(matches!(error, Error::NotPrivate { .. }) && error.to_string().contains("no TLS"), "{error}");
    assert!(!noted.warns());
    // Who never had it does without, and says so.
    prefers().open().await.unwrap().newest().await.unwrap();
    assert!(noted.warns());

    server.speak_tls(true).await;
    store.newest().await.unwrap();
}
