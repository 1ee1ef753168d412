// "Kept for reading without a network" is said only where it is so.
import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { Refused, Unreachable, type Question } from '../../src/api/client';
import { adoptUnnamed } from '../../src/offline/adopt';
import { keepAhead } from '../../src/offline/ahead';
import { forgetPictures } from '../../src/offline/pictures';
import { DeviceStore, isAnswerTo, kUnnamed, storeOfBook, type KeptAnswer } from '../../src/offline/store';

let store: DeviceStore;
let pictures: Map<string, Response>;
let status = 200;
const document = { levels: { ground: { picture: { sha256: 'ab' } } } };

class Site {
  document = document;
  store = store;
  client = { address: (path: string) => `http://page.test${path}` };
  answers: (question: Question) => Promise<{ by: string } | null> = async () => ({ by: 'server' });
  draws: () => Promise<{ sheets: number; kept: boolean }> = async () => ({ sheets: 1, kept: false });
  ask = async (question: Question) => {
    const answer = await this.answers(question);
    void store.keepAnswer({ key: JSON.stringify(question), site: 's', revision: 1, answer }).catch(() => {});
    return answer;
  };
  drawing = () => this.draws();
}
const kept = (change: (site: Site) => void = () => {}) => {
  const site = new Site();
  change(site);
  return keepAhead(site, new AbortController().signal);
};

beforeEach(() => {
  store = new DeviceStore(`ahead${Math.random()}`);
  pictures = new Map();
  status = 200;
  const cache = {
    match: async (address: string) => pictures.get(address),
    put: async (address: string, response: Response) => void pictures.set(address, response),
    keys: async () => [...pictures.keys()].map((url) => ({ url })),
    delete: async (one: { url: string }) => pictures.delete(one.url),
  };
  vi.stubGlobal('caches', { open: async () => cache });
  vi.stubGlobal('fetch', async () => new Response('', { status }));
});
afterEach(() => {
  store.close();
  vi.unstubAllGlobals();
});

describe('what is read without a network', () => {
  test('is kept where the server has answered all and the device has stored it', async () => {
    expect(await kept()).toBe(true);
    expect([...pictures.keys()]).toEqual(['http://page.test/api/files/ab']);
    await forgetPictures();
    expect(pictures.size).toBe(0);
  });
  test('is kept where the site has no answer to a question', async () => {
    expect(await kept((site) => (site.answers = ({ command }) => (command === 'supply' ? Promise.reject(new Refused(422, [])) : Promise.resolve({ by: 'server' }))))).toBe(true);
  });
  test.each([
    ['an answer by the engine in the page', (site: Site) => (site.answers = async () => ({ by: 'engine' }))],
    ['no answer', (site: Site) => (site.answers = async () => null)],
    ['a question that the server could not answer now', (site: Site) => (site.answers = () => Promise.reject(new Refused(500, [])))],
    ['a server that is away', (site: Site) => (site.answers = () => Promise.reject(new Unreachable()))],
    ['a drawing that the server could not draw now', (site: Site) => (site.draws = () => Promise.reject(new Refused(500, [])))],
    ['a picture that did not come', () => (status = 500)],
    ['a device that refuses to store', () => ((store as unknown as { answersLost: () => Promise<number> }).answersLost = ((count = 0) => async () => count++)())],
  ])('is not called kept with %s', async (_what, change) => {
    expect(await kept(change as (site: Site) => void)).toBe(false);
  });
  test('an answer that could not be stored is counted, once it is known', async () => {
    await store.keepAnswer({ key: 'fits', site: 's', revision: 1, answer: {} });
    expect(await store.answersLost()).toBe(0);
    void store.keepAnswer({ key: 'does not', site: 's', revision: 1, answer: () => {} }).catch(() => {});
    expect(await store.answersLost()).toBe(1);
  });
});

describe('the store of a book', () => {
  test('is its own: a site of the same name in another book has none of the edits', async () => {
    const [a, b] = [new DeviceStore(storeOfBook('book-a')), new DeviceStore(storeOfBook('book-b'))];
    await a.keepEdit({ id: 'e', site: 'site', order: 0, made: '', why: '', operations: [], state: 'waiting', changes: [] });
    expect(await a.edits('site')).toHaveLength(1);
    expect(await b.edits('site')).toEqual([]);
    expect(storeOfBook('')).toBe(kUnnamed); // a program that tells no book
    a.close();
    b.close();
  });
  test('takes over what was kept before books had names, to be decided by a person and not sent', async () => {
    const unnamed = new DeviceStore();
    const change = { place: '/zones/z1/name', before: 'Gate', after: 'Mine' };
    await unnamed.keepEdit({ id: 'old', site: 'site', order: 0, made: '', why: '', operations: [], state: 'waiting', changes: [change] });
    expect(await adoptUnnamed(store)).toBe(1);
    expect(await store.edits('site')).toMatchObject([{ id: 'old', state: 'held', disputed: ['/zones/z1/name'] }]);
    expect(await unnamed.allEdits()).toEqual([]);
    unnamed.close();
  });
  test('after logging out has the edits that were not sent, and nothing that can be fetched again', async () => {
    await store.keepEdit({ id: 'e', site: 's', order: 0, made: '', why: '', operations: [], state: 'waiting', changes: [] });
    await store.keepState('s', { id: 's', document: {}, revision: { number: 1, sha256: 'x' }, seen: '1' }, [], [], new Set());
    await store.keepAnswer({ key: 'prove', site: 's', revision: 1, answer: {} });
    await store.keepAnswer({ key: 'schema', site: '', revision: 0, answer: {} });
    await store.forgetWhatWasRead();
    expect([await store.sites(), await store.answer('prove'), (await store.edits('s')).length]).toEqual([[], undefined, 1]);
    expect(await store.answer('schema')).toBeDefined();
  });
  test('an answer is about a state by its SHA-256 and the engine, not by a number', () => {
    const revision = { number: 7, sha256: 'sum' };
    const answer: KeptAnswer = { key: 'k', site: 's', revision: 7, answer: { site_hash: 'sum', engine: '1.2' } };
    expect(isAnswerTo(answer, revision, '1.2')).toBe(true);
    expect(isAnswerTo(answer, { number: 7, sha256: 'of another book' }, '1.2')).toBe(false);
    expect(isAnswerTo(answer, revision, '1.3')).toBe(false);
    expect(isAnswerTo({ ...answer, answer: {} }, revision)).toBe(false); // of an older page: not known what it is about
    expect(isAnswerTo({ ...answer, answer: {}, sha256: 'sum' }, revision)).toBe(true); // a drawing has it beside it
  });
});
