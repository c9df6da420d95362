// A server like CouchDB: `node serve.js ADDRESS`. It keeps what it gets in memory.
import express from 'express';
import server from 'express-pouchdb';
import PouchDB from 'pouchdb-core';
import http from 'pouchdb-adapter-http';
import memory from 'pouchdb-adapter-memory';
import find from 'pouchdb-find';
import mapreduce from 'pouchdb-mapreduce';
import replication from 'pouchdb-replication';

PouchDB.plugin(http).plugin(memory).plugin(mapreduce).plugin(replication).plugin(find);
const Kept = PouchDB.defaults({ adapter: 'memory' });
const app = express();
app.use('/', server(Kept, { mode: 'minimumForPouchDB', inMemoryConfig: true, logPath: '/dev/null' }));
app.listen(5984, process.argv[2], () => console.log('ready'));
