// The phone's side: `node send.js ADDRESS FOLDER` puts the folder's documents into a database of its own, then brings
// them to the server, and prints the seconds of that.
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import PouchDB from 'pouchdb-core';
import http from 'pouchdb-adapter-http';
import memory from 'pouchdb-adapter-memory';
import replication from 'pouchdb-replication';

PouchDB.plugin(http).plugin(memory).plugin(replication);
const [, , address, folder] = process.argv;
const own = new PouchDB('visits', { adapter: 'memory' });
const names = readdirSync(folder).sort();
await own.bulkDocs(names.map((name) => JSON.parse(readFileSync(join(folder, name), 'utf8'))));
const begun = performance.now();
const done = await own.replicate.to(`http://${address}:5984/visits`);
if (done.docs_written !== names.length) throw new Error(`${done.docs_written} of ${names.length} got there`);
console.log(((performance.now() - begun) / 1000).toFixed(3));
