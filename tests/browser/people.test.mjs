// People who log in: what a reader and a technician can do at the page, and what stays on a device that several people use.
// The server has a book of its own: as soon as it knows somebody, everybody has to log in.
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { begin, end, person, until } from './page.mjs';

const program = process.env.ZONEPROOF_PROGRAM; // the stand-in knows no people
const skip = program === undefined && 'needs the program (ZONEPROOF_PROGRAM)';
const kPassword = 'a password for a test';
const folder = mkdtempSync(join(tmpdir(), 'zoneproof-people-'));
let server = null;
let base = '';
let headers = {};

async function ask(method, path, body) {
  const response = await fetch(base + path, { method, headers: { 'Content-Type': 'application/json', ...headers }, body: body && JSON.stringify(body) });
  if (!response.ok) throw new Error(`${method} ${path}: ${response.status} ${await response.text()}`);
  const cookie = response.headers.getSetCookie().map((one) => one.split(';')[0]).join('; ');
  if (cookie) headers.Cookie = cookie;
  const said = response.status === 204 ? null : await response.json();
  if (said?.token) headers['X-Visit-Token'] = said.token;
  return said;
}
async function serve() {
  const page = process.env.ZONEPROOF_PAGE_FOLDER ? ['--page', process.env.ZONEPROOF_PAGE_FOLDER] : [];
  server = spawn(program, ['serve', '--port', '0', '--book', join(folder, 'book'), ...page], { stdio: ['ignore', 'pipe', 'inherit'] });
  let said = '';
  while (!/http:\/\/127\.0\.0\.1:\d+/.test(said)) said += String((await once(server.stdout, 'data'))[0]);
  base = said.match(/http:\/\/127\.0\.0\.1:\d+/)[0];
}

before(async () => {
  await begin();
  if (skip) return;
  await serve();
  await ask('GET', '/api/visit');
  await ask('POST', '/api/people', { name: 'dora', role: 'designer', password: kPassword });
  await ask('POST', '/api/visit', { name: 'dora', password: kPassword });
  for (const [name, role] of [['rita', 'reader'], ['tom', 'technician']]) await ask('POST', '/api/people', { name, role, password: kPassword });
});
after(async () => {
  await end();
  server?.kill();
  rmSync(folder, { recursive: true, force: true });
});

const newSite = async () => (await ask('POST', '/api/sites', { demo: 'kiln-yard' })).id;
const zone = async (site) => (await ask('GET', `/api/sites/${site}`)).zones.z7;
const goTo = (page, site, place) => page.goto(`${base}/#/s/${site}/edit?at=/zones/z7/${place}`);
async function logIn(page, name) {
  await page.getByLabel('Name', { exact: true }).fill(name);
  await page.getByLabel('Password').fill(kPassword);
  await page.getByRole('button', { name: 'Log in' }).click();
  await page.getByLabel('Password').waitFor({ state: 'detached' });
}
async function write(page, label, text) {
  const entry = page.getByLabel(label, { exact: true }).first();
  await entry.fill(text);
  await entry.press('Tab');
}
async function logOut(page) {
  await page.getByText('Display', { exact: true }).click();
  await page.getByRole('button', { name: 'Log out' }).click();
}

test('a reader is told at once that nothing can be changed, and nothing is sent or left on the device', { skip }, async () => {
  const site = await newSite();
  const { page, faults } = await person();
  await goTo(page, site, 'name');
  await logIn(page, 'rita');
  await page.locator('footer', { hasText: 'You may look, not edit.' }).waitFor();
  await write(page, 'Name', 'By a reader');
  await page.getByRole('alert').getByText('Your role is reader').waitFor();
  assert.equal((await zone(site)).name, 'Store');
  assert.equal(await page.locator('#decisions').count(), 0);
  assert.deepEqual(faults, []);
});

test('a technician is told what the role may enter, in the language of the page, and goes on', { skip }, async () => {
  const site = await newSite();
  const { page, faults } = await person();
  await goTo(page, site, 'name');
  await logIn(page, 'tom');
  await write(page, 'Name', 'By a technician');
  await page.getByRole('alert').getByText('Your role may enter what was found on site').waitFor();
  await page.getByText('Display', { exact: true }).click();
  await page.getByLabel('Language').selectOption('Deutsch');
  await write(page, 'Name', 'Noch einmal');
  await page.getByRole('alert').getByText('was vor Ort gefunden wurde').waitFor();
  assert.equal((await zone(site)).name, 'Store');
  assert.deepEqual(faults, []);
});

test('edits that one person could not send are not sent by the next one on the same device, and go when the first is back', { skip }, async () => {
  const site = await newSite();
  await ask('POST', '/api/people', { name: 'anna', role: 'designer', password: kPassword });
  const { context, page, faults } = await person();
  await goTo(page, site, 'name');
  await logIn(page, 'anna');
  await page.getByLabel('Name', { exact: true }).first().waitFor();
  await page.locator('footer', { hasText: /All is saved/ }).waitFor();
  await context.setOffline(true);
  await write(page, 'Name', 'By Anna');
  await page.locator('footer', { hasText: '1 edits kept on this device' }).waitFor();
  await logOut(page);
  await page.getByRole('alert').getByText('1 of your edits have not been sent').waitFor();
  await page.getByRole('button', { name: 'Log out; they stay here for me' }).click();
  await page.getByText('This device is locked.').waitFor(); // also without the server
  await page.getByLabel('Password').waitFor();
  await context.setOffline(false);
  await page.reload(); // the server is told, and nobody is let in without a password
  await page.getByLabel('Password').waitFor();
  await logIn(page, 'dora');
  await page.locator('#decisions').getByText('Made on this device by anna').waitFor();
  await page.locator('footer', { hasText: /All is saved/ }).waitFor();
  assert.equal((await zone(site)).name, 'Store');
  await logOut(page);
  await page.getByLabel('Password').waitFor();
  await logIn(page, 'anna');
  await until(async () => (await zone(site)).name === 'By Anna', 'the edit goes under the name of who made it');
  const { revisions } = await ask('GET', `/api/sites/${site}/revisions`);
  assert.equal(revisions[0].who, 'anna');
  assert.deepEqual(faults, []);
});
