// What the tests of the page share: a browser, and a server to be tested against. ZONEPROOF_PAGE is its address; without it
// the stand-in of web/tests is started, which needs a built page (web/dist) and a built command.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const here = dirname(fileURLToPath(import.meta.url));
export const pictures = join(here, 'pictures');
mkdirSync(pictures, { recursive: true });

let standIn = null;
let browser = null;
export let base = process.env.ZONEPROOF_PAGE ?? '';
export const withStandIn = base === '';

export async function begin() {
  if (withStandIn) {
    standIn = spawn(process.execPath, [join(here, '../../web/tests/stand_in/server.mjs')], { env: { ...process.env, PORT: '0' }, stdio: ['ignore', 'pipe', 'inherit'] });
    const [line] = await once(standIn.stdout, 'data');
    base = String(line).trim();
  }
  browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox'] });
}
export async function end() {
  await browser?.close();
  standIn?.kill();
}

/** A person's browser; `faults` collects whatever the page complains about: nothing may be in it at the end. */
export async function person({ width = 1280, height = 800, dark = false, language = 'en', touch = false } = {}) {
  const context = await browser.newContext({ viewport: { width, height }, colorScheme: dark ? 'dark' : 'light', locale: language, hasTouch: touch, reducedMotion: 'reduce' });
  const page = await context.newPage();
  const faults = [];
  watch(page, faults);
  return { context, page, faults };
}
export function watch(page, faults) {
  page.on('pageerror', (fault) => faults.push(String(fault)));
  page.on('console', (said) => {
    // A server that is away on purpose makes the browser itself complain; a broken policy or script must not pass.
    if (said.type() === 'error' && !/Failed to load resource|net::ERR/.test(said.text())) faults.push(said.text());
  });
}

let token = null;
async function headers() {
  if (token === null) {
    const response = await fetch(`${base}/api/visit`);
    const cookie = response.headers.getSetCookie?.().map((one) => one.split(';')[0]).join('; ') ?? '';
    token = { 'X-Visit-Token': (await response.json()).token, Cookie: cookie };
  }
  return { 'Content-Type': 'application/json', ...token };
}
export async function send(method, path, body) {
  const response = await fetch(base + path, { method, headers: await headers(), body: body && JSON.stringify(body) });
  if (!response.ok) throw new Error(`${method} ${path}: ${response.status} ${await response.text()}`);
  return response;
}

/** A fresh copy of a demo site; its id. */
export async function newSite(demo = 'kiln-yard') {
  return (await (await send('POST', '/api/sites', { demo })).json()).id;
}
export async function siteNow(id) {
  const response = await fetch(`${base}/api/sites/${id}`, { headers: await headers() });
  return { document: await response.json(), sha256: response.headers.get('ETag').replaceAll('"', '') };
}
/** Somebody else edits the site. */
export async function editAsSomebody(id, operations) {
  const { document, sha256 } = await siteNow(id);
  await send('POST', `/api/sites/${id}/edits`, {
    edit: `somebody${Date.now()}${Math.random().toString(36).slice(2)}`, why: 'By somebody else',
    patch: { format: 'zoneproof-patch', version: 1, base_revision: { number: document.revision, sha256 }, operations },
  });
}

export const at = (site, screen) => `${base}/#/s/${site}/${screen}`;
export async function shown(page, site, screen) {
  await page.goto(at(site, screen));
  await page.locator('main h1').first().waitFor();
}
/** Until no answer is on its way and every drawing is there. (Not by the network: the live stream is never idle.) */
export async function settled(page) {
  await page.waitForFunction(
    () => !document.querySelector('[aria-busy=true]') && [...document.querySelectorAll('.room')].every((room) => room.querySelector('svg')),
    null, { timeout: 60_000 },
  );
  await page.evaluate(() => document.fonts.ready);
}
/** Until the server has everything. */
export const saved = (page) => page.locator('footer [role=status]', { hasText: /^All is saved|^Alles gespeichert/ }).waitFor();
export async function until(condition, what, patience = 45_000) {
  const last = Date.now() + patience;
  while (!(await condition())) {
    if (Date.now() > last) throw new Error(`not within ${patience} ms: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}
