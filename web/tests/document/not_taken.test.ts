// Edits that the server does not take, for whatever reason: none blocks the others, none is silent, and undo goes on.
// Statuses and codes are those of data/messages/en/server.json, site.json and book.json.
import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { Refused } from '../../src/api/client';
import { OpenSite, type Told } from '../../src/document/open_site';
import type { Operation } from '../../src/document/patch';
import { NotForRole } from '../../src/document/rights';
import { DeviceStore } from '../../src/offline/store';
import { name, Server } from './server';

let databases = 0;
let server: Server;
let store: DeviceStore;
let told: Told;
let site: OpenSite;
const settled = () => vi.waitFor(() => expect(told.saving).toBe('saved'));
const z1 = (value: string) => ({ zones: { z1: { name: value } } });
const ofZ1 = (operations: Operation[]) => operations.some((one) => one.path === '/zones/z1/name');

beforeEach(async () => {
  server = new Server();
  store = new DeviceStore(`not_taken${databases++}`);
  site = await OpenSite.open('s', server, store, (now) => (told = now));
  await settled();
});
afterEach(() => {
  site.close();
  store.close();
  vi.useRealTimers();
});

describe('the role of a person', () => {
  test.each(['server_only_recorded', 'server_role_needed'])('%s: the edit is kept as refused, and later ones go on', async (code) => {
    server.refuses = ofZ1;
    server.refusal = new Refused(403, [{ code, text: 'Not yours.' }]);
    await site.edit('why', name('z1', 'Mine'));
    await site.edit('why', name('z2', 'Measured'));
    await settled();
    expect(server.document).toMatchObject({ zones: { z1: { name: 'Gate' }, z2: { name: 'Measured' } } });
    expect(told.edits).toMatchObject([{ state: 'refused', problems: [{ code }] }]);
  });

  test('another 403 speaks of the visit: the edit waits, and is not called wrong', async () => {
    server.refuses = ofZ1;
    server.refusal = new Refused(403, [{ code: 'server_foreign_page', text: 'From elsewhere.' }]);
    await site.edit('why', name('z1', 'Mine'));
    await vi.waitFor(() => expect(told.saving).toBe('failing'));
    expect(told.edits).toMatchObject([{ state: 'waiting', problems: [{ text: 'From elsewhere.' }] }]);
  });

  test('is told before anything is changed', async () => {
    server.person = { name: 'rita', role: 'reader' };
    await expect(site.edit('why', name('z1', 'Mine'))).rejects.toThrow(NotForRole);
    server.person = { name: 'tom', role: 'technician' };
    await expect(site.edit('why', name('z1', 'Mine'))).rejects.toMatchObject({ place: '/zones/z1/name' });
    expect(site.document).toMatchObject(z1('Gate'));
    const sheet: Operation = { op: 'replace', path: '/zones/z1', value: { origin: 'measured', name: 'x' } };
    await expect(site.edit('why', [sheet])).rejects.toMatchObject({ place: '/zones/z1' }); // an object is no number
    const measured: Operation = { op: 'add', path: '/zones/z1/loop/wire_ohm', value: { value: 3.1, origin: 'measured' } };
    await site.edit('why', [measured]);
    await settled();
    expect(server.document).toMatchObject({ zones: { z1: { loop: { wire_ohm: { value: 3.1 } } } } });
    // To undo it would take the measured number away: the role forbids that, and the step is not offered for ever.
    await expect(site.edit('undo', site.undoStep()!.operations, 'undo')).rejects.toThrow(NotForRole);
    expect(site.undoStep()).toBeNull();
  });
});

describe('a server that cannot take an edit now', () => {
  test.each([507, 500, 415, 421, 429])('status %i is said with its words, and the edit goes later by itself', async (status) => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    server.refuses = ofZ1;
    server.refusal = new Refused(status, [{ code: 'c', text: 'Not now.' }]);
    await site.edit('why', name('z1', 'Mine'));
    await vi.waitFor(() => expect(told.saving).toBe('failing'));
    expect(told.edits).toMatchObject([{ state: 'waiting', problems: [{ text: 'Not now.' }] }]);
    server.refuses = () => false;
    await vi.advanceTimersByTimeAsync(1100);
    await settled();
    expect(server.document).toMatchObject(z1('Mine'));
    expect(told.edits).toEqual([]);
  });

  test('an answer that cannot be read, as of a sign-in page of the network, is a fault like any other', async () => {
    const { sendEdit } = server;
    server.sendEdit = () => Promise.reject(new SyntaxError('Unexpected token <'));
    await site.edit('why', name('z1', 'Mine'));
    await vi.waitFor(() => expect(told.saving).toBe('failing'));
    server.sendEdit = sendEdit;
    await site.send();
    expect(server.document).toMatchObject(z1('Mine'));
  });

  test('a 409 that does not say that the site has moved on is not sent again at once', async () => {
    server.refuses = ofZ1;
    server.refusal = new Refused(409, [{ code: 'book_other', text: 'No.' }]);
    await site.edit('why', name('z1', 'Mine'));
    await new Promise((next) => setTimeout(next, 300));
    expect([server.asked, told.saving]).toEqual([1, 'failing']);
  });

  test('nor where it says so and there is nothing newer', async () => {
    let asked = 0;
    server.sendEdit = async () => {
      asked += 1;
      return { kind: 'behind' as const, problems: [] };
    };
    await site.edit('why', name('z1', 'Mine'));
    await new Promise((next) => setTimeout(next, 300));
    expect([asked, told.saving]).toEqual([1, 'failing']);
    expect(told.edits).toMatchObject([{ state: 'waiting' }]);
  });

  test.each(['patch_other_revision', 'patch_other_content'])('%s: a book that was brought back from a copy has another base, the edit is joined to that', async (code) => {
    server.refusal = new Refused(422, [{ code, text: 'Another base.' }]);
    server.document = { zones: { z1: { name: 'Gate' }, z2: { name: 'As of the copy' } } };
    server.revision = () => ({ number: server.number, sha256: `copy${server.number}` });
    const { sendEdit } = server;
    server.sendEdit = async (...asked) => {
      if (!asked[3].base_revision.sha256.startsWith('copy')) throw server.refusal;
      return sendEdit(...asked);
    };
    await site.edit('why', name('z1', 'Mine'));
    await settled();
    expect(server.document).toMatchObject({ zones: { z1: { name: 'Mine' }, z2: { name: 'As of the copy' } } });
  });
});

describe('undo after an edit that does not stand', () => {
  const undo = async () => {
    const step = site.undoStep()!;
    await site.edit('undo', step.operations, 'undo');
    return step;
  };

  test('goes on with the edit before it', async () => {
    await site.edit('first', name('z2', 'Cold store'));
    server.refuses = ofZ1;
    await site.edit('second', name('z1', ''));
    await settled();
    await site.withdraw(told.edits[0]!.id);
    expect((await undo()).why).toBe('first');
    expect(site.document).toMatchObject({ zones: { z2: { name: 'Store' } } });
    expect(site.undoStep()).toBeNull();
  });

  test('an undo that is refused leaves the edit done, and it is offered again', async () => {
    await site.edit('first', name('z2', 'Cold store'));
    await site.edit('second', name('z1', 'Mine'));
    await settled();
    server.refuses = ofZ1;
    await undo();
    await settled();
    expect(told.edits).toMatchObject([{ state: 'refused' }]);
    expect(site.document).toMatchObject(z1('Mine'));
    expect([site.undoStep()?.why, site.redoStep()]).toEqual(['second', null]);
  });

  test('where somebody else has undone it already, is done, and the one before it is next', async () => {
    await site.edit('first', name('z2', 'Cold store'));
    await site.edit('second', name('z1', 'Mine'));
    await settled();
    server.change(name('z1', 'Gate'));
    site.noticed(server.number);
    await vi.waitFor(() => expect(site.document).toMatchObject(z1('Gate')));
    const step = await undo();
    expect([step.why, step.overrides]).toEqual(['second', []]);
    expect((await undo()).why).toBe('first');
  });

  test('an edit that is sent again can be undone again', async () => {
    server.refuses = ofZ1;
    await site.edit('why', name('z1', 'Mine'));
    await settled();
    expect(site.undoStep()).toBeNull();
    server.refuses = () => false;
    await site.retry(told.edits[0]!.id);
    await settled();
    expect(site.undoStep()?.why).toBe('why');
  });
});

test('what was built on a refused edit goes on, also after the tab was closed', async () => {
  server.refuses = (operations) => operations.some((one) => 'value' in one && one.value === '');
  await site.edit('why', name('z1', ''));
  await settled();
  server.reachable = false;
  await site.edit('why', name('z1', 'Front gate'));
  site.close();
  server.reachable = true;
  site = await OpenSite.open('s', server, store, (now) => (told = now));
  await settled();
  expect(server.document).toMatchObject(z1('Front gate'));
  expect(told.edits).toMatchObject([{ state: 'refused' }]);
});
