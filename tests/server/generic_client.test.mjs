// Everything that data/api/openapi.json describes, asked of a running server by a client that has nothing but that file.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { falsified } from './falsified.mjs';
import { Client, Validator, ajv, described, inWords } from './generic_client.mjs';

const source = (name) => readFileSync(`${process.env.ZONEPROOF_SOURCE}/${name}`, 'utf8');
const address = process.env.ZONEPROOF_SERVER;
const document = JSON.parse(source('data/api/openapi.json'));
const isResults = ajv.compile(JSON.parse(source('data/schema/results.schema.json')));
const password = 'seven quiet otters';
const site = { id: 'kiln_yard' };
const begun = (text) => Buffer.concat([Buffer.from(text, 'latin1'), Buffer.alloc(40)]);
// Begun as their standards have it: PNG (third edition) 5.2, ISO/IEC 10918-1 B.1.1.3, RFC 9649 2.4.
const pictures = { 'image/png': begun('\x89PNG\r\n\x1a\n'), 'image/jpeg': begun('\xff\xd8\xff\xe0'), 'image/webp': begun('RIFF\x28\0\0\0WEBP') };

const client = new Client(document, address);
const call = client.call.bind(client);
const isGood = ({ wrong, got }) => !wrong && got.status < 300;
/** The first call of an operation that was answered well; the first of all where none was. */
const usual = (id) => client.exchanges.of(id).find(isGood) ?? client.exchanges.of(id)[0];
const seen = () => new Set(client.exchanges.map(({ id, got }) => `${id} ${got.status}`));
const unseen = (description) => description.responses().filter((one) => !seen().has(one));

const renamed = (name) => [{ op: 'replace', path: '/name', value: name }];
async function patchOf(operations) {
  const { json, headers } = await call('site', site, null, { wanted: 200 });
  const base = { number: json.revision, sha256: headers.etag.slice(1, -1) };
  return { format: 'zoneproof-patch', version: 1, base_revision: base, operations };
}

async function logIn() {
  client.secrets.visitToken = (await call('visit')).json.token;
  client.secrets.visitToken = (await call('log_in', null, { name: 'Ada', password }, { wanted: 200 })).json.token;
}

/** What went wrong in many calls, told together. */
class Gathered {
  told = [];
  of(calling) {
    return calling.catch((fault) => this.told.push(fault.message));
  }
  none() {
    assert.equal(this.told.length, 0, this.told.join('\n'));
  }
}

function refused({ status, exchange, json: said }) {
  assert.ok(status >= 400 && status < 500 && (said.problems ?? said.results.problems).length, inWords(exchange));
}

/** A body with each of its members left out, of another kind, and with one that nobody knows. */
function* wrongBodies(body) {
  const changed = (key, value) => Object.assign(Array.isArray(body) ? [...body] : { ...body }, { [key]: value });
  for (const [key, value] of Object.entries(body)) {
    yield changed(key, undefined);
    for (const other of [17, 'nobody knows this', '', [], {}]) yield changed(key, other);
    if (typeof value === 'object') for (const inner of wrongBodies(value)) yield changed(key, inner);
  }
  if (!Array.isArray(body)) yield changed('nobody_reads_this', 1);
}

test('the description is one of OpenAPI 3.1', async () => {
  const judged = await new Validator().validate(structuredClone(document));
  assert.ok(judged.valid, JSON.stringify(judged.errors));
  const copy = structuredClone(document);
  delete copy.paths['/api/health'].get.responses[200].description;
  assert.equal((await new Validator().validate(copy)).valid, false);
});

test('the client has a call for every operation, each of its own name', () => {
  const names = Object.values(document.paths).flatMap((methods) => Object.values(methods).map((one) => one.operationId));
  assert.equal(new Set(names).size, names.length);
  for (const name of names) assert.equal(typeof client.calls[name], 'function', name);
});

test('the program, its shelf and its visitors', async () => {
  client.secrets.visitToken = (await call('visit', null, null, { wanted: 200 })).json.token;
  await call('health', null, null, { wanted: 200 });
  await call('metrics', null, null, { wanted: 200 });
  await call('people', null, null, { wanted: 200 });
  await call('authority', { form: 'pem' }, null, { wanted: 404 });
  assert.match((await call('trust', { 'Accept-Language': 'de' }, null, { wanted: 200 })).body.toString(), /lang="de"/);
  await call('schema', null, null, { wanted: 200 });
  await call('schema', { format: 'site', field: '/zones/*/loop' }, null, { wanted: 200 });
  await call('schema', { field: '/no such field & none' }, null, { wanted: 422 });
  await call('parts', { kind: 'camera' }, null, { wanted: 200 });
  await call('parts', { id: 'no_such_part' }, null, { wanted: 422 });
  await call('rules', { book: 'common_practice' }, null, { wanted: 200 });
  await call('rules', { book: 'no such book' }, null, { wanted: 422 });
});

test('sites are made in each way', async () => {
  const yard = { demo: 'kiln-yard', id: site.id, edit: 'first', why: 'to begin' };
  for (const time of ['once', 'the same edit again']) assert.equal((await call('make_site', null, yard, { wanted: 201 })).json.id, site.id, time);
  await call('make_site', null, { ...yard, edit: 'another' }, { wanted: 409 });
  await call('make_site', null, { demo: 'no-such' }, { wanted: 422 });
  await call('make_site', null, { empty: { name: 'Nothing yet' } }, { wanted: 201 });
  await call('make_site', null, { text: source('data/demo/tern-hollow.site.json') }, { wanted: 201 });
  await call('make_site', null, { text: '{}' }, { wanted: 422 });
  const table = { table: 'number,name\n1,Front door\n2,Store\n', name: 'From a table', unit: 'unit_4_no_papers', units: 1 };
  await call('make_site', null, table, { wanted: 201 });
  const unknown = { panel: 'none', zone_terminal: 'none', supply: 'none', battery: 'none', rulebook: 'none', grade: 9, origin: 'none' };
  await call('make_site', null, { ...table, ...unknown }, { wanted: 422 });
  const { json } = await call('sites', null, null, { wanted: 200 });
  assert.deepEqual([json.sites.length, json.demos.length], [4, 4]);
});

test('a site is read, edited and undone, each edit once', async () => {
  const { etag } = (await call('site', site, null, { wanted: 200 })).headers;
  await call('site', { ...site, 'If-None-Match': etag }, null, { wanted: 304 });
  const patch = await patchOf(renamed('Renamed'));
  const edit = { edit: 'e-1', why: 'a new name', patch };
  const kept = (await call('edit', site, edit, { wanted: 200 })).json;
  const again = (await call('edit', site, edit, { wanted: 200 })).json;
  assert.deepEqual([kept.repeated, again.repeated, again.revision], [false, true, kept.revision]);
  const behind = (await call('edit', site, { edit: 'e-2', patch }, { wanted: 409 })).json;
  assert.deepEqual(behind.since.map((one) => one.edit), ['e-1']);
  assert.equal((await call('edit', site, { edit: 'e-3', patch: kept.undo }, { wanted: 200 })).json.revision.number, 3);
  await call('edit', site, { edit: 'e-4', patch: await patchOf([{ op: 'remove', path: '/no/such' }]) }, { wanted: 422 });
});

test('the history is told, by pages and by revisions', async () => {
  assert.equal((await call('revisions', site, null, { wanted: 200 })).json.revisions.length, 3);
  const page = (await call('revisions', { ...site, before: 3, most: 1 }, null, { wanted: 200 })).json;
  assert.deepEqual([page.revisions.map((one) => one.number), page.more], [[2], true]);
  assert.equal((await call('revision', { ...site, number: 1 }, null, { wanted: 200 })).json.changes, null);
  const second = (await call('revision', { ...site, number: 2 }, null, { wanted: 200 })).json;
  assert.equal(second.site.name, 'Renamed');
  assert.ok(second.changes.some(({ after }) => after?.includes('Renamed')), JSON.stringify(second.changes));
});

test('questions are answered and trials keep nothing', async () => {
  const question = { command: 'check' };
  const { etag } = (await call('site', site)).headers;
  const answer = (await call('ask', { ...site, 'Accept-Language': 'de' }, question, { wanted: 200 })).json;
  assert.ok(isResults(answer), ajv.errorsText(isResults.errors));
  await call('ask', site, { command: 'levels', zone: 'no such' }, { wanted: 422 });
  const tried = (await call('trial', { ...site, 'Accept-Language': 'de' }, { operations: renamed('Tried'), question }, { wanted: 200 })).json;
  assert.notEqual(tried.site_hash, answer.site_hash);
  await call('trial', site, { operations: [{ op: 'move', from: '/no', path: '/such' }], question }, { wanted: 422 });
  assert.equal((await call('site', site)).headers.etag, etag);
});

test('drawings and pictures', async () => {
  for (const drawing of ['wiring', 'plan', 'picture', 'discharge'])
    assert.match((await call('drawing', { ...site, drawing, page: 1, ink: 'dark', language: 'de' }, null, { wanted: 200 })).body.toString(), /^<svg/);
  await call('drawing', { ...site, drawing: 'wiring', volts: 'rest', 'Accept-Language': 'de' }, null, { wanted: 200 });
  await call('drawing', { ...site, drawing: 'wiring', of: 'nobody & none+1' }, null, { wanted: 422 });
  await call('drawing', { ...site, drawing: 'plan', page: 99 }, null, { wanted: 404 });
  for (const [kind, bytes] of Object.entries(pictures)) {
    const { sha256 } = (await call('keep_file', null, bytes, { wanted: 201, headers: { 'Content-Type': kind } })).json;
    const got = await call('file', { sha256 }, null, { wanted: 200 });
    assert.deepEqual([got.headers['content-type'], got.body], [kind, bytes]);
    await call('file', { sha256, 'If-None-Match': got.headers.etag }, null, { wanted: 304 });
  }
  await call('keep_file', null, Buffer.from('no picture'), { wanted: 415, headers: { 'Content-Type': 'image/png' } });
  await call('file', { sha256: '0'.repeat(64) }, null, { wanted: 404 });
});

test('events are told while long work goes on', async () => {
  let number;
  const take = async (stream) => {
    const wishes = { paper: 'letter', address: 'https://workshop.example/' };
    number = (await call('begin_handover', { ...site, 'Accept-Language': 'de' }, wishes, { wanted: 202 })).json.work;
    let said = '';
    for await (const piece of stream) if (/"state":"(done|failed)"/.test(said += piece)) break;
    return Buffer.from(said);
  };
  const told = (await call('live', site, null, { wanted: 200, take })).body.toString();
  for (const event of ['hello', 'people', 'work']) assert.ok(told.includes(`event: ${event}\n`), told);
  const { state, files } = (await call('work', { number }, null, { wanted: 200 })).json;
  assert.equal(state, 'done');
  for (const { name, bytes } of files) assert.equal((await call('work_file', { number, name }, null, { wanted: 200 })).body.length, bytes);
  await call('work_file', { number, name: 'no such ü.pdf' }, null, { wanted: 404 });
  await call('stop_work', { number }, null, { wanted: 204 });
  assert.deepEqual((await call('work', { number }, null, { wanted: 200 })).json.files, []);
  await call('begin_handover', site, { prices: 'no list', labels: 'no stock' }, { wanted: 422 });
});

test('people come, change and go, whatever they are called', async () => {
  const ada = { name: 'Ada', role: 'designer', password };
  await call('add_person', null, { ...ada, role: 'reader' }, { wanted: 422 });
  await call('add_person', null, ada, { wanted: 201 });
  await call('log_in', null, { name: 'Ada', password: 'not that one' }, { wanted: 401 });
  await logIn();
  await call('log_out', null, null, { wanted: 204 });
  await logIn();
  const zoe = { name: 'Zoë & Jo? #1; 100 %+', role: 'technician', password };
  await call('add_person', null, zoe, { wanted: 201 });
  await call('add_person', null, zoe, { wanted: 409 });
  assert.ok((await call('people', null, null, { wanted: 200 })).json.people.some(({ name }) => name === zoe.name));
  assert.equal((await call('change_person', { name: zoe.name }, { role: 'reader', password: `${password} more` }, { wanted: 200 })).json.name, zoe.name);
  await call('change_person', { name: zoe.name }, { password: 'ü'.repeat(150) }, { wanted: 422 });
  await call('change_person', { name: zoe.name }, { password: 'u'.repeat(201) }, { wanted: 422, wrong: true });
  await call('change_person', { name: 'Ada' }, { password: `${password} more`, old_password: 'not that one' }, { wanted: 401 });
  await call('change_person', { name: 'Ada' }, { role: 'reader' }, { wanted: 409 });
  await call('remove_person', { name: 'Ada' }, null, { wanted: 409 });
});

test('parameters that the description refuses, the server refuses', async () => {
  const faults = new Gathered();
  for (const [id, { parameters = [] }] of client.description.operations) {
    for (const parameter of parameters)
      for (const value of [-1, 0, 101, 'nobody knows this'])
        if (client.description.parameterFaults(parameter, `${value}`).length)
          await faults.of(client.again(usual(id), { wrong: true, parameters: { [parameter.name]: value } }).then(refused));
    if (parameters.some(({ in: place }) => place === 'query'))
      await faults.of(client.again(usual(id), { wrong: true, wanted: 400, parameters: { nobody_reads_this: 1 } }));
  }
  faults.none();
});

test('bodies that the description refuses, the server refuses', async () => {
  const unreadable = [[], '[]', '{"nobody_reads_this": 1}', '{"a": 1, "a": 2}', [0xff, 0x7b, 0x7d], '{'.repeat(5000)].map((one) => Buffer.from(one));
  const edit = { edit: 'e-5', patch: await patchOf(renamed('Never')) };
  const faults = new Gathered();
  for (const [id, { requestBody }] of client.description.operations) {
    if (!requestBody?.content['application/json']) continue; // of a picture the bytes decide, whatever it is called
    const isWrong = (body) => client.description.jsonFaults(requestBody.content['application/json'], body, '').length > 0;
    const good = id === 'edit' ? [edit] : client.exchanges.of(id).filter(isGood).map(({ called }) => called.body);
    const wrong = good.flatMap((body) => [...wrongBodies(body)]).map((body) => JSON.parse(JSON.stringify(body))).filter(isWrong);
    for (const body of [...wrong, ...unreadable]) await faults.of(client.again(usual(id), { wrong: true, body }).then(refused));
    await faults.of(client.again(usual(id), { wrong: true, wanted: 415, headers: { 'Content-Type': 'text/plain' } }));
  }
  faults.none();
});

test('a body may be too large', async () => {
  const blanks = Buffer.alloc(65 * 2 ** 20, ' ');
  for (const [id, { requestBody }] of client.description.operations) {
    if (!requestBody) continue;
    let status;
    for (const megabytes of [0.02, 2, 9, 33, 65])
      if (status !== 413) ({ status } = await client.again(usual(id), { wrong: 'perhaps', body: blanks.subarray(0, megabytes * 2 ** 20) }));
    assert.equal(status, 413, id);
  }
});

test('what is not there is not found', async () => {
  const elsewhere = { id: 'no_such', number: 99 };
  const faults = new Gathered();
  for (const [id, { parameters = [] }] of client.description.operations) {
    const nowhere = parameters.flatMap(({ in: place, name }) => (place === 'path' && name in elsewhere ? [[name, elsewhere[name]]] : []));
    if (nowhere.length) await faults.of(client.again(usual(id), { wanted: 404, parameters: Object.fromEntries(nowhere) }));
  }
  const { name } = usual('change_person').called.parameters;
  await call('remove_person', { name }, null, { wanted: 204 });
  await call('remove_person', { name }, null, { wanted: 404 });
  await call('change_person', { name }, { role: 'reader' }, { wanted: 404 });
  faults.none();
});

test('nobody changes anything without the token, and strangers get nothing', async () => {
  const withSecret = (name) => [...client.description.operations].filter(([, { security }]) => security?.some((names) => name in names)).map(([id]) => id);
  const { visitToken } = client.secrets;
  delete client.secrets.visitToken;
  const faults = new Gathered();
  for (const id of withSecret('visitToken')) await faults.of(client.again(usual(id), { wrong: true, wanted: 403 }));
  client.secrets.visitToken = visitToken;
  await call('log_out', null, null, { wanted: 204 });
  client.secrets.visitToken = (await call('visit')).json.token;
  for (const id of withSecret('visit'))
    if (!['log_in', 'log_out'].includes(id)) await faults.of(client.again(usual(id), { wanted: 401 }));
  for (let tries = 0; tries < 6; ++tries) await call('log_in', null, { name: 'Ada', password: `guess ${tries} of many` });
  await call('log_in', null, { name: 'Ada', password }, { wanted: 429 });
  faults.none();
});

test('every response that is described was seen', () => {
  // Too much at once is limits_test.py's; the program's own authority, and visitors of other machines, are tls_test.py's.
  const others = ['metrics 401', 'authority 200', 'ask 503', 'trial 503', 'drawing 503', 'begin_handover 503'];
  assert.deepEqual(unseen(client.description), others);
  const more = structuredClone(document);
  more.paths['/api/new'] = { get: { operationId: 'new', responses: { 200: { description: 'Not called by anybody.' } } } };
  assert.deepEqual(unseen(described(more)), [...others, 'new 200'], 'an operation that is added is missed');
});

test('whatever in the description is not so is noticed', () => {
  assert.deepEqual(client.exchanges.faults(client.description), []);
  const unnoticed = [];
  let told = 0;
  for (const lie of falsified(document, seen())) {
    const shown = lie.operation ? client.exchanges.of(lie.operation) : client.exchanges.using(lie.component, client.description);
    if (shown.faults(described(lie.document)).length === 0) unnoticed.push(lie.what);
    ++told;
  }
  assert.deepEqual(unnoticed, []);
  console.log(`${client.exchanges.length} exchanges as described, ${told} falsified descriptions noticed`);
});

test('a client of a false description fails', async () => {
  const { '/api/health': health, ...paths } = document.paths;
  for (const false_ of [{ '/api/healthy': health }, { '/api/health': { post: health.get } }])
    await assert.rejects(new Client({ ...document, paths: { ...paths, ...false_ } }, address).call('health'), /is not described/);
});
