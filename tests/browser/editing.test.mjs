// Editing: at once, undone, several people, without a network, and a tab that is killed.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { at, begin, editAsSomebody, end, newSite, person, saved, shown, siteNow, until } from './page.mjs';

before(begin);
after(end);

const field = '/zones/z7/name';
const nameOf = async (site) => (await siteNow(site)).document.zones.z7.name;
async function atName(page, site) {
  await shown(page, site, `edit?at=${field}`);
  return page.getByLabel('Name', { exact: true }).first();
}
async function write(page, entry, text) {
  await entry.fill(text);
  await entry.press('Tab');
}

test('an edit is saved by itself, undone by a key, and done again', async () => {
  const site = await newSite();
  const { page, faults } = await person();
  const entry = await atName(page, site);
  await write(page, entry, 'Cold store');
  await saved(page);
  assert.equal(await nameOf(site), 'Cold store');
  await page.locator('main h1').click();
  await page.keyboard.press('Control+z');
  await until(async () => (await nameOf(site)) === 'Store', 'the edit is undone at the server');
  await page.keyboard.press('Control+y');
  await until(async () => (await nameOf(site)) === 'Cold store', 'the edit is done again');
  assert.deepEqual(faults, []);
});

test('what somebody else does elsewhere arrives by itself, and nothing is asked', async () => {
  const site = await newSite();
  const { page, faults } = await person();
  const entry = await atName(page, site);
  await editAsSomebody(site, [{ op: 'replace', path: '/zones/z6/name', value: 'Furnace' }]);
  await write(page, entry, 'Cold store');
  await saved(page);
  const { document } = await siteNow(site);
  assert.deepEqual([document.zones.z6.name, document.zones.z7.name], ['Furnace', 'Cold store']);
  await page.goto(at(site, 'tables/zones'));
  await page.getByRole('gridcell', { name: 'Furnace', exact: true }).waitFor();
  assert.deepEqual(faults, []);
});

test('two values for one place: both are shown, a person chooses, and nothing is lost until then', async () => {
  const site = await newSite();
  const { context, page, faults } = await person();
  const entry = await atName(page, site);
  await context.setOffline(true);
  await write(page, entry, 'Mine');
  await page.locator('footer', { hasText: '1 edits kept on this device' }).waitFor();
  await editAsSomebody(site, [{ op: 'replace', path: field, value: 'Theirs' }]);
  await context.setOffline(false);
  const decision = page.locator('#decisions');
  await decision.getByText('Theirs', { exact: true }).last().waitFor();
  await decision.getByText('Mine', { exact: true }).last().waitFor();
  assert.equal(await nameOf(site), 'Theirs');
  await page.reload(); // the question stays
  await decision.getByRole('radio', { name: /Mine/ }).check();
  await decision.getByRole('button', { name: 'Take what is chosen' }).click();
  await until(async () => (await nameOf(site)) === 'Mine', 'what was chosen stands');
  await decision.waitFor({ state: 'detached' });
  assert.deepEqual(faults, []);
});

test('an edit made without a network survives the tab, and arrives when there is one', async () => {
  const site = await newSite();
  const { context, page, faults } = await person();
  const entry = await atName(page, site);
  await context.setOffline(true);
  await write(page, entry, 'Written in the cellar');
  await page.locator('footer', { hasText: '1 edits kept on this device' }).waitFor();
  await page.close({ runBeforeUnload: false });
  assert.equal(await nameOf(site), 'Store');
  await context.setOffline(false);
  const again = await context.newPage();
  await again.goto(at(site, 'board'));
  await until(async () => (await nameOf(site)) === 'Written in the cellar', 'the edit arrives');
  assert.deepEqual(faults, []);
});

test('what the server finds wrong is kept with its words, and the site goes on', async () => {
  const site = await newSite();
  const { page } = await person();
  await shown(page, site, 'edit?at=/zones/z7/input');
  // Two zones on one input: the form takes it for a number like any other, the program does not.
  const entry = page.getByLabel('Input', { exact: true });
  await write(page, entry, '6');
  const refused = page.locator('#decisions').getByText('The server has not taken this edit.');
  const taken = page.locator('footer', { hasText: 'Revision 2' });
  await refused.or(taken).first().waitFor();
  if (await refused.isVisible()) {
    assert.equal((await siteNow(site)).document.zones.z7.input, 7);
    await page.getByRole('button', { name: 'Give it up' }).click();
    await refused.waitFor({ state: 'detached' });
  }
});

test('a revision is read as a difference, and brought back', async () => {
  const site = await newSite();
  const { page, faults } = await person();
  const entry = await atName(page, site);
  await write(page, entry, 'Cold store');
  await saved(page);
  await page.goto(at(site, 'revisions'));
  await page.getByRole('button', { name: '2', exact: true }).click();
  await page.getByText('Store → Cold store').waitFor();
  await page.getByRole('button', { name: 'Bring back' }).first().click();
  await until(async () => (await nameOf(site)) === 'Store', 'the first revision is back');
  assert.deepEqual(faults, []);
});
