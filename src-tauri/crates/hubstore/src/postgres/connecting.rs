//! Connecting: address, settings, upgrades.

use std::time::Duration;

use deadpool_postgres::tokio_postgres::config::SslMode;
use deadpool_postgres::tokio_postgres::tls::{MakeTlsConnect, TlsConnect};
use deadpool_postgres::tokio_postgres::{Config, NoTls, Socket};
use deadpool_postgres::{Manager, ManagerConfig, Object, Pool, RecyclingMethod, Runtime};

use super::address::{Address, Privacy};
use super::tls::Tls;
use super::verifying::{with_anybody, with_authorities};
use super::{PostgresPool, schema};
use crate::Error;
use crate::sql::Database;

/// A hub's storage in PostgreSQL.
pub type Postgres = Database<PostgresPool>;

/// How to connect.
///
/// The address says how the connection is kept private, as `sslmode`: `verify-full` with `sslrootcert=FILE`, `require`,
/// `prefer` or `disable`. Without a word of it, a database on this machine is spoken to plainly and another as by `prefer`.
#[derive(Debug, Clone)]
pub struct Connecting {
    address: String,
    schema: Option<String>,
    connections: usize,
}

impl Connecting {
    /// Begins to connect to a database by its address, `postgres://USER@HOST/NAME`.
    #[must_use]
    pub fn to(address: &str) -> Connecting {
        Connecting { address: address.to_owned(), schema: None, connections: 16 }
    }

    /// Keeps everything in this schema, which is made when it is not there. Otherwise it is the connection's own.
    #[must_use]
    pub fn schema(mut self, name: &str) -> Connecting {
        self.schema = Some(name.to_owned());
        self
    }

    /// Limits the connections of this process.
    #[must_use]
    pub fn connections(mut self, most: usize) -> Connecting {
        self.connections = most.max(1);
        self
    }

    /// Connects and upgrades what stands there.
    ///
    /// # Errors
    ///
    /// [`Error::Address`] for an address that is none; [`Error::NotPrivate`]; [`Error::Newer`], in which case nothing is
    /// touched; [`Error::Unreachable`], and what the database gives.
    pub async fn open(self) -> Result<Postgres, Error> {
        let address = Address::read(&self.address)?;
        let (backend, mut client) = match &address.privacy {
            Privacy::Plain => self.connected(address.config, NoTls).await?,
            Privacy::Encrypted => self.connected(address.config, Tls::by(with_anybody()?)).await?,
            Privacy::Verified(file) => {
                self.connected(address.config, Tls::by(with_authorities(file)?)).await?
            }
            Privacy::WhereOffered => self.where_offered(address.config).await?,
        };
        schema::upgrade(&mut client, self.schema.as_deref()).await?;
        drop(client);
        Ok(Database { backend })
    }

    /// Connects privately if the server can. If so it is asked for on every other connection; if not it is said.
    async fn where_offered(&self, mut config: Config) -> Result<(PostgresPool, Object), Error> {
        let tls = Tls::by(with_anybody()?);
        let first = self.connected(config.clone(), tls.clone()).await?;
        if tls.was_made() {
            config.ssl_mode(SslMode::Require);
            return self.connected(config, tls).await;
        }
        tracing::warn!(
            "the connection to the database is not private: its server offers no TLS. Switch `ssl` on there and name it \
             with sslmode=verify-full; or say sslmode=disable, where the network is the database's own"
        );
        Ok(first)
    }

    async fn connected<T>(&self, config: Config, tls: T) -> Result<(PostgresPool, Object), Error>
    where
        T: MakeTlsConnect<Socket> + Clone + Sync + Send + 'static,
        T::Stream: Sync + Send,
        T::TlsConnect: Sync + Send,
        <T::TlsConnect as TlsConnect<Socket>>::Future: Send,
    {
        let backend = PostgresPool::over(self.pool(config, tls)?);
        let client = backend.client().await?;
        Ok((backend, client))
    }

    fn pool<T>(&self, mut config: Config, tls: T) -> Result<Pool, Error>
    where
        T: MakeTlsConnect<Socket> + Clone + Sync + Send + 'static,
        T::Stream: Sync + Send,
        T::TlsConnect: Sync + Send,
        <T::TlsConnect as TlsConnect<Socket>>::Future: Send,
    {
        let mut options = config.get_options().unwrap_or_default().to_owned();
        options.push_str(" -c synchronous_commit=on");
        if let Some(schema) = &self.schema {
            if !schema::is_plain(schema) {
                return Err(Error::Io { what: format!("{schema:?} is no name for a schema") });
            }
            options.push_str(&format!(" -c search_path={schema}"));
        }
        config.options(options).application_name("headmark-hub").connect_timeout(Duration::from_secs(10));
        let manager =
            Manager::from_config(config, tls, ManagerConfig { recycling_method: RecyclingMethod::Fast });
        Pool::builder(manager)
            .max_size(self.connections)
            .runtime(Runtime::Tokio1)
            .wait_timeout(Some(Duration::from_secs(30)))
            .create_timeout(Some(Duration::from_secs(15)))
            .build()
            .map_err(Error::broken)
    }
}
