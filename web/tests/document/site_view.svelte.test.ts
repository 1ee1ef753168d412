// What an answer is about: never called one about the page's document where the server answered for another, in the language of now.
import 'fake-indexeddb/auto';
import { flushSync } from 'svelte';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { Answer, Client, Question } from '../../src/api/client';
import { Unreachable } from '../../src/api/client';
import type { Json } from '../../src/document/json';
import { SiteView } from '../../src/document/site_view.svelte';
import type { LocalEngine } from '../../src/engine/engine';
import { DeviceStore } from '../../src/offline/store';

class Server {
  number = 7;
  reachable = true;
  program = '1';
  language_ = $state('en');
  asked: string[] = []; // language and command of each question
  language = () => this.language_;
  address = (path: string) => path;
  hash = (number = this.number) => `sum${number}`;
  document = (): Json => ({ revision: this.number, zones: {} });
  site = async () => {
    if (!this.reachable) throw new Unreachable();
    return { document: this.document(), revision: { number: this.number, sha256: this.hash() } };
  };
  ask = async (_site: string, question: Question): Promise<Answer<never>> => {
    if (!this.reachable) throw new Unreachable();
    this.asked.push(`${this.language_} ${question.command}`);
    return { engine: this.program, format: 'zoneproof-results', version: 1, site_hash: this.hash(), results: { command: question.command, chains: [], of: this.number, says: this.language_ } as never };
  };
}
let server: Server;
let store: DeviceStore;
let view: SiteView;
let databases = 0;
const noEngine = { ask: async () => null, forget: () => {} } as unknown as LocalEngine;
const open = async () => (view = await SiteView.open('s', server as unknown as Client, store, noEngine));
const supply: Question = { command: 'supply' };

beforeEach(() => {
  server = new Server();
  store = new DeviceStore(`view${databases++}`);
});
afterEach(() => view.close());

test('an answer is fresh where its hash is that of the revision that the page shows', async () => {
  await open();
  await vi.waitFor(() => expect(view.proofFresh).toBe(true));
  expect(view.proof!.revision).toBe(7);
});

test('an answer about a revision that the page has not seen is not shown as one about its own, and what the server has is fetched', async () => {
  await open();
  await vi.waitFor(() => expect(view.proofFresh).toBe(true));
  server.number = 8; // another program has written into the book: no event tells of it
  const answer = await view.ask<{ of: number }>(supply);
  expect(answer!.results.of).toBe(8);
  expect(answer!.of).not.toBe(view.document);
  expect(answer!.revision).toBeNull();
  await vi.waitFor(() => expect(view.revision.number).toBe(8));
  const again = await view.ask<{ of: number }>(supply);
  expect(again!.of).toBe(view.document);
  expect(again!.revision).toBe(8);
});

test('what was answered about another revision is not kept under the number of this one', async () => {
  await open();
  await vi.waitFor(() => expect(view.proofFresh).toBe(true));
  const fetched = server.site;
  server.site = () => new Promise(() => {}); // what the server has does not arrive any more
  server.number = 8;
  await view.ask(supply);
  await new Promise((next) => setTimeout(next, 20));
  expect(await store.answer(`s en ${JSON.stringify(supply)}`)).toBeUndefined();
  server.site = fetched;
});

test('a kept answer counts as one of now by the hash of the site, not by a number that another book has as well', async () => {
  const key = `s en ${JSON.stringify(supply)}`;
  const kept = (site_hash: string) => store.keepAnswer({ key, site: 's', revision: 7, answer: { engine: '1', format: 'zoneproof-results', version: 1, site_hash, results: { command: 'supply' } } });
  await open();
  await vi.waitFor(() => expect(view.proofFresh).toBe(true));
  server.reachable = false;
  await kept('sum of revision 7 of another book');
  expect((await view.ask(supply))!.of).toBeNull();
  await kept('sum7');
  expect((await view.ask(supply))!.of).toBe(view.document);
});

test('a kept answer of another version of the program is not one of now', async () => {
  const key = `s en ${JSON.stringify(supply)}`;
  await open();
  await vi.waitFor(() => expect(view.proofFresh).toBe(true));
  server.reachable = false;
  await store.keepAnswer({ key, site: 's', revision: 7, answer: { engine: '0', format: 'zoneproof-results', version: 1, site_hash: 'sum7', results: { command: 'supply' } } });
  expect((await view.ask(supply))!.of).toBeNull();
});

test('another language asks again: the proof and what a sheet has asked, and until then nothing is called current', async () => {
  await open();
  await vi.waitFor(() => expect(view.proofFresh).toBe(true));
  let sheet!: ReturnType<typeof view.asked<{ says: string }>>;
  const stop = $effect.root(() => {
    sheet = view.asked(() => supply);
  });
  flushSync();
  await vi.waitFor(() => expect(sheet.fresh).toBe(true));
  expect(sheet.now!.results.says).toBe('en');
  server.language_ = 'de';
  flushSync();
  expect(sheet.fresh).toBe(false);
  expect(view.proofFresh).toBe(false);
  await vi.waitFor(() => expect(sheet.fresh && view.proofFresh).toBe(true));
  expect(sheet.now!.results.says).toBe('de');
  expect(server.asked.filter((one) => one === 'de prove')).toHaveLength(1);
  stop();
});
