// The visit of a page: a change is asked for with the token of the visit, and repeated once where the server did not know it.
import { expect, test } from 'vitest';
import { Client, OtherVisit, Refused } from '../../src/api/client';

const kToken = 'token of this visit';
const patch = { format: 'zoneproof-patch' as const, version: 1 as const, base_revision: { number: 1, sha256: 'sum' }, operations: [] };

/** A server that takes changes with the token alone, and answers an edit no sooner than it is told to. */
class Server {
  changes: (string | undefined)[] = [];
  #answer: () => void = () => {};
  slow: Promise<void> | null = null;

  holdTheNextChange() {
    this.slow = new Promise((go) => (this.#answer = go));
  }
  answerIt() {
    this.#answer();
    this.slow = null;
  }
  fetch = async (address: string | URL | Request, asked?: RequestInit): Promise<Response> => {
    const json = (status: number, said: unknown) => new Response(JSON.stringify(said), { status });
    if (address === '/api/visit') return json(200, { token: kToken, login_needed: false });
    const token = (asked?.headers as Record<string, string>)['X-Visit-Token'];
    this.changes.push(token);
    await this.slow;
    return token === kToken ? json(200, { revision: { number: 2, sha256: 'sum2' } }) : json(403, { problems: [] });
  };
}

test('an edit that left before the visit was known is repeated, though the visit became known on the way', async () => {
  const server = new Server();
  const client = new Client('', () => 'en', server.fetch as typeof fetch);
  server.holdTheNextChange();
  const edit = client.sendEdit('s', 'e1', 'Why', patch);
  await client.visit(); // the page's own first question, answered while the edit is on its way
  server.answerIt();
  expect(await edit).toEqual({ kind: 'taken', revision: { number: 2, sha256: 'sum2' } });
  expect(server.changes).toEqual([undefined, kToken]);
});

test('without a visit the server is asked once who we are', async () => {
  const server = new Server();
  const client = new Client('', () => 'en', server.fetch as typeof fetch);
  expect((await client.sendEdit('s', 'e1', 'Why', patch)).kind).toBe('taken');
  expect(server.changes).toEqual([undefined, kToken]);
});

test('who may not change anything is told so, and not asked for ever', async () => {
  let asked = 0;
  const fetcher = async (address: string | URL | Request) => {
    if (address === '/api/visit') return new Response(JSON.stringify({ token: kToken }), { status: 200 });
    asked += 1;
    return new Response(JSON.stringify({ problems: [] }), { status: 403 });
  };
  const client = new Client('', () => 'en', fetcher as typeof fetch);
  await client.visit();
  await expect(client.sendEdit('s', 'e1', 'Why', patch)).rejects.toThrow(Refused);
  expect(asked).toBe(1);
});

/** A server whose visit and token can change behind the page, as by a login in another tab or by another book. */
class Changing {
  visit = { token: 't1', login_needed: false, name: 'anna', role: 'designer', book: 'a' };
  edits: string[] = [];
  fetch = async (address: string | URL | Request, asked?: RequestInit): Promise<Response> => {
    if (address === '/api/visit') return new Response(JSON.stringify(this.visit));
    const fits = (asked?.headers as Record<string, string>)['X-Visit-Token'] === this.visit.token;
    if (!fits) return new Response(JSON.stringify({ problems: [{ code: 'server_token_wrong', text: 'x' }] }), { status: 403 });
    this.edits.push(JSON.parse(String(asked?.body)).edit);
    return new Response(JSON.stringify({ revision: { number: 2, sha256: 'sum2' } }));
  };
}
test.each([
  ['somebody else', { name: 'bob', token: 't2' }],
  ['another book', { book: 'b', token: 't2' }],
])('an edit is not sent to %s, not at once and not later', async (_what, change) => {
  const server = new Changing();
  const client = new Client('', () => 'en', server.fetch as typeof fetch);
  const others: string[] = [];
  client.onother = (visit) => others.push(`${visit.name} ${visit.book}`);
  const { name, role, book } = await client.visit();
  client.know({ name, role, book });
  await client.sendEdit('s', 'e1', 'Why', patch);
  Object.assign(server.visit, change);
  await expect(client.sendEdit('s', 'e2', 'Why', patch)).rejects.toThrow(OtherVisit);
  await expect(client.sendEdit('s', 'e2', 'Why', patch)).rejects.toThrow(OtherVisit);
  await expect(client.checkVisit()).rejects.toThrow(OtherVisit);
  expect(server.edits).toEqual(['e1']);
  expect(others[0]).toBe(`${server.visit.name} ${server.visit.book}`);
});

test('a login that has run out is not somebody else', async () => {
  const server = new Changing();
  const client = new Client('', () => 'en', server.fetch as typeof fetch);
  client.know({ name: 'anna', role: 'designer', book: 'a' });
  Object.assign(server.visit, { login_needed: true, name: null, role: null });
  await client.checkVisit();
  expect(client.who()).toEqual({ name: 'anna', role: 'designer' });
});

test.each([
  [{ problems: [{ code: 'server_edit_behind', text: 'Moved on.' }] }, 'behind'],
  [{ problems: [{ code: 'site_locked', text: 'No.' }] }, 'refused'],
  [{}, 'refused'],
])('a 409 is a site that has moved on only where it says so: %j', async (said, outcome) => {
  const client = new Client('', () => 'en', (async () => new Response(JSON.stringify(said), { status: 409 })) as typeof fetch);
  const asked = client.sendEdit('s', 'e1', 'Why', patch);
  if (outcome === 'behind') expect((await asked).kind).toBe('behind');
  else await expect(asked).rejects.toMatchObject({ status: 409 });
});
