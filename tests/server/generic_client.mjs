// A client that knows nothing of this program but its description: openapi-client-axios builds every call from it at run time.
import assert from 'node:assert/strict';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { Description } from './description.mjs';
import { componentsOf } from './falsified.mjs';

const library = createRequire(`${process.env.ZONEPROOF_LIBRARIES}/`);
const { OpenAPIClientAxios } = library('openapi-client-axios');
const { Ajv2020 } = library('ajv/dist/2020');
export const { Validator } = await import(pathToFileURL(library.resolve('@seriousme/openapi-schema-validator')));

export const ajv = new Ajv2020({ strict: true, strictTypes: false, strictRequired: false, allowUnionTypes: true });
ajv.addVocabulary(['components']); // stands beside a schema, for what it refers to

export const described = (document) => new Description(ajv, document);

export const inWords = ({ id, sent, got }) =>
  `${id}: ${sent.method} ${sent.path} ${sent.body?.subarray(0, 300) ?? ''}\n${got.status} ${got.body.subarray(0, 500)}`;

/** Requests as they went out, each with what came back. */
class Exchanges extends Array {
  of(id) {
    return this.filter((one) => one.id === id);
  }
  /** Those for which a component of the description counts. */
  using(component, { operations, document }) {
    const uses = new Map();
    return this.filter(({ id, got }) => {
      const key = `${id} ${got.status}`;
      const { requestBody, responses } = operations.get(id);
      if (!uses.has(key)) uses.set(key, componentsOf([requestBody, responses[got.status]], document).has(component));
      return uses.get(key);
    });
  }
  /** What a description has against the first that is not as described, where the request was not meant to be wrong; empty: nothing. */
  faults(description) {
    for (const { id, wrong, sent, got } of this) {
      const faults = [...(wrong ? [] : description.requestFaults(id, sent)), ...description.responseFaults(id, got)];
      if (faults.length) return faults;
    }
    return [];
  }
}

export class Client {
  constructor(document, address) {
    this.description = described(document);
    this.exchanges = new Exchanges();
    this.secrets = {}; // by name of the scheme
    const plainly = { baseURL: address, proxy: false, maxRedirects: 0, maxBodyLength: Infinity, responseType: 'arraybuffer', validateStatus: () => true };
    this.calls = new OpenAPIClientAxios({ definition: structuredClone(document), axiosConfigDefaults: plainly }).initSync();
  }

  /** The headers of an operation's security, from the secrets that are there. */
  securityHeaders(id) {
    const headers = {};
    for (const name of Object.keys(this.description.operations.get(id)?.security?.[0] ?? {})) {
      const scheme = this.description.document.components.securitySchemes[name];
      if (this.secrets[name] === undefined) continue;
      if (scheme.in === 'cookie') headers.Cookie = `${scheme.name}=${this.secrets[name]}`;
      else headers[scheme.name] = this.secrets[name];
    }
    return headers;
  }

  keepCookie(headers) {
    for (const [name, scheme] of Object.entries(this.description.document.components.securitySchemes))
      for (const given of headers['set-cookie'] ?? [])
        if (scheme.in === 'cookie' && given.startsWith(`${scheme.name}=`)) this.secrets[name] = given.split(';')[0].slice(scheme.name.length + 1);
  }

  /**
   * Calls an operation, holds request and response to the description and gives the response, its JSON read. `wrong`: the request
   * is meant not to be as described, which is held as well; 'perhaps' where that does not matter. `take` reads a response that
   * does not end by itself.
   */
  async call(id, parameters, body, { wanted, wrong = false, headers = {}, take } = {}) {
    assert.equal(typeof this.calls[id], 'function', `the client has no operation ${id}`);
    const options = { headers: { ...this.securityHeaders(id), ...headers }, ...(take ? { responseType: 'stream' } : {}) };
    const { request, config, status, data, headers: told } = await this.calls[id](parameters, body, options);
    const sent = { method: request.method, path: request.path, headers: request.getHeaders(), body: config.data };
    if (typeof sent.body === 'string') sent.body = Buffer.from(sent.body);
    const got = { status, headers: told, body: take ? await take(data) : data };
    const exchange = { id, wrong, called: { parameters, body, headers }, sent, got };
    this.exchanges.push(exchange);
    this.keepCookie(told);
    this.hold(exchange, wanted);
    return { ...got, exchange, json: String(told['content-type']).startsWith('application/json') ? JSON.parse(got.body) : undefined };
  }

  hold(exchange, wanted) {
    const { id, wrong, sent, got } = exchange;
    const ofRequest = this.description.requestFaults(id, sent);
    if (wrong === true) assert.notEqual(ofRequest.length, 0, `the description takes what is meant to be wrong: ${inWords(exchange)}`);
    const faults = [...(wrong ? [] : ofRequest), ...this.description.responseFaults(id, got)];
    assert.equal(faults.length, 0, `${faults.join('\n')}\n${inWords(exchange)}`);
    if (wanted) assert.equal(got.status, wanted, inWords(exchange));
  }

  /** Calls once more as it was called before, with the secrets that there are now; `parameters` and `body` in place of those of then. */
  again({ id, called }, { parameters, body = called.body, ...more } = {}) {
    return this.call(id, { ...called.parameters, ...parameters }, body, { ...more, headers: { ...called.headers, ...more.headers } });
  }
}
