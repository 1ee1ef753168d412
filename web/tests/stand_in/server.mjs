// A stand-in for the program's server, for work on the page and its tests: the interface of docs/decisions/020 as far as
// the page uses it, kept in memory, with answers and drawings by the zoneproof command. Not shipped, and no example.
//   PORT=8790 ZONEPROOF=../build/release/zoneproof node tests/stand_in/server.mjs
// /test/… is for tests alone: /test/mood {away, refuse, lose_answers}, /test/engine for the double of the engine.
import { execFile } from 'node:child_process';
import { createHash } from 'node:crypto';
import { createReadStream, existsSync, mkdtempSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import { dirname, extname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';

const web = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const root = join(web, '..');
const command = process.env.ZONEPROOF ?? join(root, 'build/release/zoneproof');
const fonts = process.env.FONTS ?? join(dirname(command), 'fonts');
const engine = process.env.ENGINE ?? join(web, 'tests/stand_in'); // engine.mjs there is a double
const folder = mkdtempSync(join(tmpdir(), 'zoneproof-stand-in-'));

const kTypes = { '.html': 'text/html; charset=utf-8', '.js': 'text/javascript', '.mjs': 'text/javascript', '.css': 'text/css', '.svg': 'image/svg+xml', '.otf': 'font/otf', '.ttf': 'font/ttf', '.wasm': 'application/wasm', '.webmanifest': 'application/manifest+json', '.txt': 'text/plain', '.pdf': 'application/pdf' };
const kPolicy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' blob:; font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

const kDemos = ['kiln-yard', 'saltmarsh', 'tern-hollow'];
const sites = new Map(); // id -> {revisions: [{number, sha256, who, when, why, text, differences}], edits: Map}
const works = new Map();
const listeners = new Set();
const mood = { away: false, refuse: false, lose_answers: 0 };
let count = 0;

/** Runs the command; what it prints, and its exit code. */
const run = (args) =>
  new Promise((resolve) => execFile(command, args, { maxBuffer: 1 << 28 }, (fault, out, err) => resolve({ code: fault?.code ?? 0, out, err })));

async function canonical(text) {
  // The command has no option that writes the canonical form: sorted keys and the indent of the demo files are near enough.
  const sorted = (value) => (Array.isArray(value) ? value.map(sorted) : value && typeof value === 'object' ? Object.fromEntries(Object.keys(value).sort().filter((key) => value[key] !== null).map((key) => [key, sorted(value[key])])) : value);
  return JSON.stringify(sorted(JSON.parse(text)), null, 1);
}
const fileOf = (text) => {
  const file = join(folder, `${createHash('sha256').update(text).digest('hex').slice(0, 20)}.site.json`);
  if (!existsSync(file)) writeFileSync(file, text);
  return file;
};
async function problemsIn(text) {
  const { out } = await run(['check', fileOf(text), '--json']);
  return (JSON.parse(out).results.problems ?? []).filter((one) => one.severity === 'error');
}
const now = (site) => site.revisions.at(-1);
const listed = ({ text, ...told }) => told;

function pointed(document, path) {
  return path.split('/').slice(1).map((key) => key.replaceAll('~1', '/').replaceAll('~0', '~')).reduce((at, key, i, keys) => (i === keys.length - 1 ? { at, key } : (at[key] ??= {})), document);
}
function patched(text, operations) {
  const document = JSON.parse(text);
  for (const operation of operations) {
    const { at, key } = pointed(document, operation.path);
    const there = at[key] !== undefined && at[key] !== null;
    if (operation.op === 'add') Array.isArray(at) ? at.splice(key === '-' ? at.length : Number(key), 0, operation.value) : (at[key] = operation.value);
    else if (!there && operation.op !== 'move') throw new Error(`nothing at ${operation.path}`);
    else if (operation.op === 'replace') at[key] = operation.value;
    else if (operation.op === 'remove') Array.isArray(at) ? at.splice(Number(key), 1) : delete at[key];
    else if (operation.op === 'test' && JSON.stringify(at[key]) !== JSON.stringify(operation.value)) throw new Error(`another value at ${operation.path}`);
  }
  return document;
}
async function grown(site, operations, who, why) {
  const last = now(site);
  const document = patched(last.text, operations);
  document.revision = last.number + 1;
  const text = await canonical(JSON.stringify(document));
  const problems = await problemsIn(text);
  if (problems.length > 0) return { problems };
  const changes = operations.filter((one) => one.op !== 'test').map((one) => ({ pointer: one.path, before: valueIn(last.text, one.path), after: one.value ?? null }));
  site.revisions.push({ number: document.revision, sha256: createHash('sha256').update(text).digest('hex'), who, when: new Date().toISOString(), why, changes, text });
  for (const listener of listeners) if (listener.site === site) listener.write(`event: revision\ndata: ${JSON.stringify({ number: document.revision, who })}\n\n`);
  return { revision: { number: document.revision, sha256: now(site).sha256 } };
}
function valueIn(text, path) {
  return path.split('/').slice(1).reduce((at, key) => at?.[key], JSON.parse(text)) ?? null;
}

async function asked(text, question, language) {
  const { command: what, ...options } = question;
  const args = [what];
  if (!['parts', 'rules', 'schema', 'terminal'].includes(what)) args.push(fileOf(text));
  for (const [key, value] of Object.entries(options)) {
    if (value === false || value === null || value === undefined || value === '') continue;
    args.push(`--${key.replaceAll('_', '-')}`);
    if (value !== true) args.push(Array.isArray(value) ? value.join(',') : String(value));
  }
  const { out, err } = await run([...args, '--json', '--language', language]);
  return out || JSON.stringify({ problems: [{ code: 'stand_in', severity: 'error', text: err }] });
}

async function makeSite(from, language) {
  let text;
  if (from.demo) text = readFileSync(join(root, 'data/demo', `${from.demo}.site.json`), 'utf8');
  else if (from.text) text = from.text;
  else if (from.table !== undefined) {
    const file = join(folder, `t${++count}.csv`);
    writeFileSync(file, from.table);
    const options = Object.entries(from).filter(([key, value]) => value && !['table', 'name'].includes(key)).flatMap(([key, value]) => [`--${key === 'zone_terminal' ? 'terminal' : key}`, String(value)]);
    const said = JSON.parse((await run(['draft', file, '--name', from.name || 'Site', ...options, '--json', '--language', language])).out);
    if (said.results.problems) return { status: 422, problems: said.results.problems };
    text = typeof said.results.site === 'string' ? said.results.site : JSON.stringify(said.results.site);
  } else text = JSON.stringify({ format: 'zoneproof-site', version: 3, revision: 1, ...from.empty });
  text = await canonical(text);
  const problems = await problemsIn(text);
  if (problems.length > 0) return { status: 422, problems };
  const id = from.demo ? `${from.demo}${[...sites.keys()].some((one) => one === from.demo) ? `-${++count}` : ''}` : `site-${++count}`;
  sites.set(id, { revisions: [{ number: JSON.parse(text).revision, sha256: createHash('sha256').update(text).digest('hex'), who: 'you', when: new Date().toISOString(), why: '', changes: [], text }], edits: new Map() });
  return { status: 201, id };
}

async function handover(work, text, wishes, language) {
  const target = join(folder, `papers${work.number}`);
  const args = ['handover', fileOf(text), '-o', target, '--language', language];
  if (wishes.paper) args.push('--paper', wishes.paper);
  const child = execFile(command, args, () => {
    if (work.state !== 'running') return;
    const pdf = existsSync(target) ? (pdfIn(target)) : null;
    Object.assign(work, pdf ? { state: 'done', done: 1, files: [{ name: 'handover.pdf', bytes: statSync(pdf).size, address: `/api/work/${work.number}/files/handover.pdf` }], path: pdf } : { state: 'failed' });
  });
  work.child = child;
  child.stderr.on('data', (said) => Object.assign(work, { says: String(said).trim().split('\n').at(-1).slice(0, 200), done: Math.min(0.95, (work.done ?? 0) + 0.1) }));
}
import { readdirSync } from 'node:fs';
function pdfIn(target) {
  const found = readdirSync(target).find((name) => name.endsWith('.pdf'));
  return found ? join(target, found) : null;
}

async function drawing(text, kind, wanted, language) {
  const target = join(folder, `d${++count}.svg`);
  const args = ['draw', fileOf(text), kind, '-o', target, '--language', language];
  if (wanted.get('of')) args.push('--of', wanted.get('of'));
  if (wanted.get('ink')) args.push('--ink', wanted.get('ink'));
  if (wanted.get('volts')) args.push('--volts', wanted.get('volts'));
  const { out, err } = await run(args);
  const files = existsSync(target) ? [target] : readdirSync(folder).filter((name) => name.startsWith(`d${count}-`)).sort((a, b) => parseInt(a.split('-')[1]) - parseInt(b.split('-')[1])).map((name) => join(folder, name));
  if (files.length === 0) return { status: 422, problems: [{ code: 'stand_in', severity: 'error', text: (err || out).trim() }] };
  const page = Math.min(files.length, Number(wanted.get('page') ?? 1));
  return { status: 200, svg: readFileSync(files[page - 1], 'utf8'), sheets: files.length };
}

const bodyOf = (request) => new Promise((resolve) => { let text = ''; request.on('data', (part) => (text += part)).on('end', () => resolve(text ? JSON.parse(text) : {})); });

async function api(request, response, url) {
  const language = url.searchParams.get('language') ?? (request.headers['accept-language'] ?? 'en').slice(0, 2);
  const reply = (status, body, headers = {}) => response.writeHead(status, { 'Content-Type': 'application/json', ...headers }).end(typeof body === 'string' ? body : JSON.stringify(body));
  const [, , what, id, action, rest] = url.pathname.split('/').map(decodeURIComponent);
  const body = request.method === 'POST' ? await bodyOf(request) : {};
  if (what === 'visit') return reply(200, { login_needed: false, name: null, role: 'designer', token: 'x' });
  if (what === 'schema') return reply(200, readFileSync(join(root, 'data/schema/site.schema.json'), 'utf8'));
  if (what === 'parts' || what === 'rules') return reply(200, await asked('', { command: what }, language));
  if (what === 'work') {
    const work = works.get(Number(id));
    if (!work) return reply(404, { problems: [] });
    if (action === 'files') return response.writeHead(200, { 'Content-Type': 'application/pdf', 'Content-Disposition': 'attachment; filename="handover.pdf"' }).end(readFileSync(work.path));
    if (request.method === 'DELETE') { work.state = 'stopped'; work.child?.kill(); return reply(200, {}); }
    const { child, path, ...told } = work;
    return reply(200, told);
  }
  if (what !== 'sites') return reply(404, { problems: [{ code: 'x', text: 'Nothing here.' }] });
  if (!id && request.method === 'GET') return reply(200, { demos: kDemos.map((id) => ({ id, name: JSON.parse(readFileSync(join(root, 'data/demo', `${id}.site.json`), 'utf8')).name })), sites: [...sites].map(([id, site]) => ({ id, name: JSON.parse(now(site).text).name ?? '', revision: now(site).number, who: now(site).who, when: now(site).when })) });
  if (!id) { const made = await makeSite(body, language); return reply(made.status, made.problems ? { problems: made.problems } : { id: made.id }); }
  const site = sites.get(id);
  if (!site) return reply(404, { problems: [{ code: 'no_site', text: `There is no site ${id}.` }] });
  const last = now(site);
  switch (action) {
    case undefined: return reply(200, last.text, { ETag: `"${last.sha256}"` });
    case 'edits': {
      const before = site.edits.get(body.edit);
      if (before) return reply(200, before);
      if (mood.refuse) return reply(422, { problems: [{ code: 'stand_in', text: 'Refused for a test.' }] });
      if (body.patch.base_revision.sha256 !== last.sha256) return reply(409, { problems: [{ code: 'server_edit_behind', text: 'The site has been changed meanwhile.' }], revisions: site.revisions.filter((one) => one.number > body.patch.base_revision.number).map(listed) });
      let grew;
      try { grew = await grown(site, body.patch.operations, 'you', body.why); } catch (fault) { grew = { problems: [{ code: 'stand_in', text: String(fault) }] }; }
      if (grew.problems) return reply(422, { problems: grew.problems });
      site.edits.set(body.edit, { revision: grew.revision });
      if (mood.lose_answers > 0) { mood.lose_answers -= 1; return request.socket.destroy(); }
      return reply(200, { revision: grew.revision });
    }
    case 'revisions': {
      if (!rest) return reply(200, { revisions: site.revisions.map(listed).reverse(), more: false });
      const found = site.revisions.find((one) => one.number === Number(rest));
      return found ? reply(200, { ...listed(found), site: JSON.parse(found.text) }) : reply(404, { problems: [] });
    }
    case 'ask': {
      // Its canonical form is not quite the program's: what is asked is about the revision that the stand-in has.
      const said = JSON.parse(await asked(last.text, body, language));
      return reply(200, { ...said, site_hash: last.sha256 });
    }
    case 'trial': {
      try { return reply(200, await asked(await canonical(JSON.stringify(patched(last.text, body.operations))), body.question, language)); } catch (fault) { return reply(422, { problems: [{ code: 'stand_in', text: String(fault) }] }); }
    }
    case 'drawings': {
      const drawn = await drawing(last.text, rest, url.searchParams, language);
      if (drawn.problems) return reply(drawn.status, { problems: drawn.problems });
      return response.writeHead(200, { 'Content-Type': 'image/svg+xml', 'X-Sheets': drawn.sheets }).end(drawn.svg);
    }
    case 'handover': {
      const number = ++count;
      works.set(number, { number, site: id, state: 'running', done: 0, says: '', problems: [], files: [] });
      handover(works.get(number), last.text, body, language);
      return reply(202, { work: number });
    }
    case 'live': {
      response.writeHead(200, { 'Content-Type': 'text/event-stream', 'Cache-Control': 'no-store' });
      response.write(`event: hello\ndata: ${JSON.stringify({ revision: { number: last.number } })}\n\n`);
      const listener = { site, write: (text) => response.write(text) };
      listeners.add(listener);
      request.on('close', () => listeners.delete(listener));
      return undefined;
    }
  }
  return reply(404, { problems: [] });
}

async function forTests(request, response, url) {
  const body = await bodyOf(request);
  if (url.pathname === '/test/engine') {
    if (body.question) return response.end(await asked(body.text, body.question, 'en'));
    const text = JSON.stringify(patched(body.text, body.operations));
    const problems = await problemsIn(text);
    return response.end(JSON.stringify(problems.length > 0 ? { problems } : { text, revision: { number: body.revision.number + 1, sha256: '' } }));
  }
  Object.assign(mood, body);
  return response.end('{}');
}

function file(response, path) {
  if (!existsSync(path) || !statSync(path).isFile()) return response.writeHead(404, { 'Content-Type': 'text/plain' }).end('Nothing here.');
  response.writeHead(200, { 'Content-Type': kTypes[extname(path)] ?? 'application/octet-stream', 'Content-Security-Policy': kPolicy, 'X-Content-Type-Options': 'nosniff', 'Cache-Control': path.includes('assets') ? 'public, max-age=31536000, immutable' : 'no-cache' });
  return createReadStream(path).pipe(response);
}

createServer(async (request, response) => {
  const url = new URL(request.url, 'http://localhost');
  try {
    if (url.pathname.startsWith('/test/')) return await forTests(request, response, url);
    if (mood.away) return request.socket.destroy();
    if (url.pathname.startsWith('/api/')) return await api(request, response, url);
    const inside = (base, path) => join(base, normalize(path).replace(/^(\.\.[/\\])+/, ''));
    if (url.pathname.startsWith('/fonts/')) return file(response, inside(fonts, url.pathname.slice(7)));
    if (url.pathname.startsWith('/engine/')) return file(response, inside(engine, url.pathname.slice(8)));
    return file(response, inside(join(web, 'dist'), url.pathname === '/' ? 'index.html' : url.pathname));
  } catch (fault) {
    console.error(fault);
    if (!response.headersSent) response.writeHead(500, { 'Content-Type': 'application/json' });
    return response.end(JSON.stringify({ problems: [{ code: 'own_fault', text: String(fault) }] }));
  }
}).listen(Number(process.env.PORT ?? 8790), '127.0.0.1', function () {
  console.log(`http://127.0.0.1:${this.address().port}`);
});
