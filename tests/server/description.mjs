// An OpenAPI 3.1 description that requests and responses are held to, as they went over the wire. Knows nothing of this program.
import { STATUS_CODES } from 'node:http';

const mediaOf = (headers) => String(headers['content-type'] ?? '').split(';')[0].trim();

/** What a text of the address or of a header is for its schema. */
const read = (schema, text) => (schema.type === 'integer' && /^-?\d+$/.test(text) ? Number(text) : text);

const segments = (path) => path.split('/').slice(1).map(decodeURIComponent);

/** Compiling takes milliseconds, and descriptions may differ outside of their components only. */
const validatorsOf = new WeakMap();

export class Description {
  /** `ajv` reads JSON Schema of 2020-12, as OpenAPI 3.1 has it. */
  constructor(ajv, document) {
    this.ajv = ajv;
    this.document = document;
    if (!validatorsOf.has(document.components)) validatorsOf.set(document.components, new Map());
    this.validators = validatorsOf.get(document.components);
    this.operations = new Map();
    for (const [path, methods] of Object.entries(document.paths))
      for (const [method, operation] of Object.entries(methods))
        this.operations.set(operation.operationId, { ...operation, path, method });
  }

  validator(schema) {
    const key = JSON.stringify(schema);
    if (!this.validators.has(key)) this.validators.set(key, this.ajv.compile({ ...schema, components: this.document.components }));
    return this.validators.get(key);
  }

  /** What `value` has against it; empty where it is as described. */
  valueFaults(schema, value, where) {
    const validate = this.validator(schema);
    return validate(value) ? [] : [`${where}: ${this.ajv.errorsText(validate.errors)}`];
  }

  /** What a request has against it: { method, path, headers, body }, path with its query, names of headers in small letters. */
  requestFaults(id, sent) {
    const operation = this.operations.get(id);
    if (!operation) return [`no operation ${id}`];
    if (sent.method !== operation.method.toUpperCase()) return [`method ${sent.method}`];
    return [...this.addressFaults(operation, sent), ...this.sentBodyFaults(operation, sent), ...this.securityFaults(operation, sent)];
  }

  addressFaults(operation, sent) {
    const [path, query = ''] = sent.path.split('?');
    const wanted = operation.path.split('/').slice(1), found = segments(path);
    const given = { path: {}, query: Object.fromEntries(new URLSearchParams(query)), header: sent.headers, cookie: {} };
    const fits = wanted.length === found.length && wanted.every((part, at) => {
      if (part.startsWith('{')) given.path[part.slice(1, -1)] = found[at];
      return part.startsWith('{') || part === found[at];
    });
    if (!fits) return [`path ${path}`];
    const described = operation.parameters ?? [];
    const unknown = ['path', 'query'].flatMap((place) => Object.keys(given[place])
      .filter((name) => !described.some((one) => one.in === place && one.name === name)));
    return [...unknown.map((name) => `parameter ${name} is not described`), ...described.flatMap((one) => {
      const text = given[one.in][one.in === 'header' ? one.name.toLowerCase() : one.name];
      if (text === undefined) return one.required ? [`parameter ${one.name} is missing`] : [];
      return this.parameterFaults(one, text);
    })];
  }

  /** `text` as it stands in the address or the head. */
  parameterFaults({ name, schema }, text) {
    return this.valueFaults(schema, read(schema, text), `parameter ${name}`);
  }

  sentBodyFaults(operation, sent) {
    const described = operation.requestBody;
    if (!sent.body?.length) return described?.required ? ['no body'] : [];
    if (!described) return ['a body that is not described'];
    return this.bodyFaults(described.content, sent, 'request');
  }

  bodyFaults(content, { headers, body }, where) {
    const media = mediaOf(headers);
    if (!content[media]) return [`${where}: media type "${media}" is not described`];
    if (media !== 'application/json') {
      const events = content[media]['x-events'];
      return [
        ...this.valueFaults(content[media].schema, body.toString('latin1'), where),
        ...(events ? this.eventFaults(events, body.toString('utf8'), where) : []),
      ];
    }
    try {
      return this.jsonFaults(content[media], JSON.parse(body.toString()), where);
    } catch (fault) {
      return [`${where}: ${fault.message}`];
    }
  }

  /** Server-sent events: a line of the name, a line of JSON, an empty line. What is cut off at the end is not judged. */
  eventFaults(events, text, where) {
    return text
      .split('\n\n')
      .slice(0, -1)
      .filter((one) => one.startsWith('event: '))
      .flatMap((one) => {
        const [, name, data] = /^event: (.*)\ndata: (.*)$/s.exec(one) ?? [];
        if (!name || !events[name]) return [`${where}: the event ${name ?? one} is not described`];
        return this.valueFaults(events[name], JSON.parse(data), `${where}: event ${name}`);
      });
  }

  jsonFaults({ schema }, value, where) {
    return this.valueFaults(schema, value, where);
  }

  /** Every scheme of one of the alternatives must have been sent; none at all where the operation asks for none. */
  securityFaults(operation, sent) {
    const alternatives = operation.security ?? this.document.security ?? [];
    const isSent = (name) => {
      const scheme = this.document.components.securitySchemes[name];
      if (scheme?.in === 'header') return sent.headers[scheme.name.toLowerCase()] !== undefined;
      return scheme?.in === 'cookie' && (sent.headers.cookie ?? '').split('; ').some((one) => one.startsWith(`${scheme.name}=`));
    };
    if (alternatives.length === 0 || alternatives.some((names) => Object.keys(names).every(isSent))) return [];
    return [`security: none of ${JSON.stringify(alternatives)} was sent`];
  }

  /** What a response has against it: { status, headers, body }. */
  responseFaults(id, got) {
    const described = this.operations.get(id)?.responses[got.status];
    if (!described) return [`status ${got.status} ${STATUS_CODES[got.status]} is not described`];
    const headers = Object.entries(described.headers ?? {}).flatMap(([name, about]) => {
      const text = got.headers[name.toLowerCase()];
      if (text === undefined) return about.required ? [`header ${name} is missing`] : [];
      return this.valueFaults(about.schema, read(about.schema, String(text)), `header ${name}`);
    });
    if (described.content) return [...headers, ...this.bodyFaults(described.content, got, `answer ${got.status}`)];
    return got.body.length ? [...headers, 'a body that is not described'] : headers;
  }

  /** "operation status" of every response that is described. */
  responses() {
    return [...this.operations].flatMap(([id, operation]) => Object.keys(operation.responses).map((status) => `${id} ${status}`));
  }
}
