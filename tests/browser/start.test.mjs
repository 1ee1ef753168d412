// The first page: a demo, a table, a file, nothing at all.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { base, begin, end, person, saved } from './page.mjs';

before(begin);
after(end);

test('a demo is one click away', async () => {
  const { page, faults } = await person();
  await page.goto(base);
  await page.getByRole('button', { name: 'Kiln Yard Pottery', exact: true }).click();
  await page.locator('li.chain').first().waitFor({ timeout: 30_000 });
  assert.deepEqual(faults, []);
});

test('a table from a spreadsheet becomes a site, and what is wrong with it is told', async () => {
  const { page, faults } = await person();
  await page.goto(base);
  await page.getByRole('button', { name: 'Paste a table' }).click();
  await page.getByLabel('Name of the site').fill('Ferry kiosk');
  const table = page.getByLabel('Table of zones');
  await table.fill('number;name\ntwo;Store\n');
  await page.getByRole('button', { name: 'Make the site' }).click();
  await page.getByRole('alert').filter({ hasText: 'whole number' }).waitFor();
  await page.getByRole('button', { name: 'Put an example in' }).click();
  await page.getByLabel(/^Panel/).first().selectOption({ index: 1 });
  await page.getByRole('button', { name: 'Make the site' }).click();
  await page.locator('li.chain', { hasText: 'Shop floor' }).waitFor({ timeout: 30_000 });
  assert.deepEqual(faults, []);
});

test('an empty site tells what comes first, and every step leads to its place', async () => {
  const { page, faults } = await person({ width: 390, height: 844, touch: true });
  await page.goto(base);
  await page.getByRole('button', { name: 'Begin an empty site' }).click();
  await page.getByText('Nothing is here yet').waitFor();
  await page.getByRole('link', { name: 'The zones and their loops' }).click();
  await page.getByPlaceholder('Name of the new one').fill('Front door');
  await page.getByRole('button', { name: 'Add', exact: true }).click();
  await saved(page);
  await page.getByRole('gridcell', { name: 'Front door', exact: true }).waitFor();
  assert.deepEqual(faults, []);
});
