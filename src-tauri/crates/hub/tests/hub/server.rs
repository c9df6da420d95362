//! The hub's doors in this process, on a free port, spoken to over TLS.

use std::net::{SocketAddr, TcpListener, TcpStream};
use std::sync::Arc;

use hub::api::{App, Limits};
use hub::keys::TlsKey;
use hubstore::PhotoStore;
use reqwest::{Client, Method, RequestBuilder, StatusCode};
use rustls::pki_types::pem::PemObject;
use rustls::pki_types::{CertificateDer, PrivateKeyDer, ServerName};
use rustls::{ClientConfig, ClientConnection, RootCertStore, ServerConfig, StreamOwned};
use tokio::sync::watch;
use tokio::task::JoinHandle;

use crate::world::World;

/// A connection as a stranger's program holds it.
pub(crate) type Raw = StreamOwned<ClientConnection, TcpStream>;

pub(crate) struct Server {
    pub(crate) world: World,
    pub(crate) client: Client,
    config: Arc<ClientConfig>,
    at: SocketAddr,
    base: String,
    stop: watch::Sender<bool>,
    running: JoinHandle<Result<(), hub::Error>>,
}

/// Signed in: what goes with every request.
pub(crate) struct Session {
    pub(crate) cookie: String,
    pub(crate) csrf: String,
}

impl Server {
    pub(crate) async fn start() -> Server {
        Server::with(Limits::default()).await
    }

    pub(crate) async fn with(limits: Limits) -> Server {
        Server::before(World::new().await, limits).await
    }

    /// The doors of a hub that is there already.
    pub(crate) async fn before(world: World, limits: Limits) -> Server {
        let tls = TlsKey::make().unwrap();
        let pem = tls.certificate(&["localhost".to_owned()]).unwrap();
        let certificate = CertificateDer::from_pem_slice(pem.as_bytes()).unwrap();
        let private = PrivateKeyDer::from_pem_slice(tls.pem().as_bytes()).unwrap();
        let provider = Arc::new(rustls::crypto::ring::default_provider());
        let server = ServerConfig::builder_with_provider(Arc::clone(&provider))
            .with_safe_default_protocol_versions()
            .unwrap()
            .with_no_client_auth()
            .with_single_cert(vec![certificate.clone()], private)
            .unwrap();
        let mut roots = RootCertStore::empty();
        roots.add(certificate).unwrap();
        let config = ClientConfig::builder_with_provider(provider)
            .with_safe_default_protocol_versions()
            .unwrap()
            .with_root_certificates(roots)
            .with_no_client_auth();
        let raw = Arc::new(config.clone());
        let client = Client::builder().use_preconfigured_tls(config).http1_only().build().unwrap();
        let hub = world.once_more().await;
        let photos = PhotoStore::folder(&world.folder.path().join("photos")).unwrap();
        let app = App::new(hub, photos, "https://hub.marrowby.example:8443".into(), limits);
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let at = listener.local_addr().unwrap();
        let base = format!("https://localhost:{}", at.port());
        let (stop, stopped) = watch::channel(false);
        let running = tokio::spawn(hub::serving::serve(app, listener, server, stopped));
        Server { world, client, config: raw, at, base, stop, running }
    }

    /// Connects, and brings the handshake to its end. For a thread that may block.
    pub(crate) fn connector(&self) -> impl Fn() -> std::io::Result<Raw> + Clone + Send + 'static {
        let (config, at) = (Arc::clone(&self.config), self.at);
        move || {
            let name = ServerName::try_from("localhost").unwrap();
            let socket = TcpStream::connect(at)?;
            socket.set_read_timeout(Some(std::time::Duration::from_secs(20)))?;
            let connection = ClientConnection::new(Arc::clone(&config), name).unwrap();
            let mut raw = StreamOwned::new(connection, socket);
            while raw.conn.is_handshaking() {
                raw.conn.complete_io(&mut raw.sock)?;
            }
            Ok(raw)
        }
    }

    pub(crate) fn ask(&self, method: Method, path: &str) -> RequestBuilder {
        self.client.request(method, format!("{}{path}", self.base))
    }

    pub(crate) fn get(&self, path: &str) -> RequestBuilder {
        self.ask(Method::GET, path)
    }

    pub(crate) fn post(&self, path: &str, body: &serde_json::Value) -> RequestBuilder {
        let text = serde_json::to_vec(body).unwrap();
        self.ask(Method::POST, path).header("content-type", "application/json").body(text)
    }

    pub(crate) async fn sign_in(&self, name: &str) -> Session {
        let body = serde_json::json!({ "name": name, "password": "three dry words" });
        let answer = self.post("/sign-in", &body).send().await.unwrap();
        assert_eq!(answer.status(), StatusCode::OK);
        let line = answer.headers()["set-cookie"].to_str().unwrap().to_owned();
        for word in ["__Host-headmark=", "; Secure", "; HttpOnly", "; SameSite=Strict", "; Path=/"] {
            assert!(line.contains(word), "{line}");
        }
        let cookie = line.split(';').next().unwrap().to_owned();
        let me = json(answer).await;
        Session { cookie, csrf: me["csrf"].as_str().unwrap().to_owned() }
    }

    /// Tells it to stop and waits for the end.
    pub(crate) async fn stop(self) {
        self.stop.send(true).unwrap();
        self.running.await.unwrap().unwrap();
    }

    pub(crate) fn tell_to_stop(&self) {
        self.stop.send(true).unwrap();
    }

    pub(crate) async fn ended(self) {
        self.running.await.unwrap().unwrap();
    }
}

impl Session {
    /// A request of somebody who is signed in, from the hub's own page.
    pub(crate) fn on(&self, request: RequestBuilder) -> RequestBuilder {
        request.header("cookie", &self.cookie).header("x-headmark-csrf", &self.csrf)
    }

    /// The same without the second secret.
    pub(crate) fn cookie_only(&self, request: RequestBuilder) -> RequestBuilder {
        request.header("cookie", &self.cookie)
    }
}

pub(crate) async fn json(answer: reqwest::Response) -> serde_json::Value {
    serde_json::from_slice(&answer.bytes().await.unwrap()).unwrap()
}
