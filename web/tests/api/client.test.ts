// The visit of a page: a change is asked for with the token of the visit, and repeated once where the server did not know it.
import { expect, test } from 'vitest';
import { Client, Refused } from '../../src/api/client';

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
