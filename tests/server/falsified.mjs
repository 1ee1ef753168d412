// Copies of a description, each with one thing in it that is not so. Whoever holds exchanges to them has to notice every one.

const never = { const: 'nobody sends this' };

/** Every property of the schemas within a part of the description, as [object that holds it, its name, where that is]. */
function* propertiesOf(part, where) {
  if (typeof part !== 'object' || part === null) return;
  for (const name of Object.keys(part.properties ?? {})) yield [part.properties, name, `${where}.${name}`];
  for (const [key, inner] of Object.entries(part)) yield* propertiesOf(inner, key === 'properties' ? where : `${where}.${key}`);
}

/** Names of the components that a part of the description uses, through others as well. */
export function componentsOf(part, document, found = new Set()) {
  for (const [, name] of JSON.stringify(part ?? null).matchAll(/"#\/components\/schemas\/(\w+)"/g)) {
    if (found.has(name)) continue;
    found.add(name);
    componentsOf(document.components.schemas[name], document, found);
  }
  return found;
}

/** Lies about one operation: [what, change of the operation]. `statuses`: those of its responses that were seen. */
function* ofOperation({ responses, parameters = [], requestBody, security = [] }, statuses) {
  yield ['its body', (one) => (one.requestBody = requestBody ? undefined : { required: true, content: {} })];
  yield ['its security', (one) => (one.security = [{ ...security[0], nobody: [] }])];
  for (const at of parameters.keys()) yield [`parameter ${parameters[at].name}`, (one) => (one.parameters[at].schema = never)];
  for (const status of statuses) {
    yield [`status ${status}`, (one) => delete one.responses[status]];
    for (const name of Object.keys(responses[status].headers ?? {}))
      yield [`header ${name} of ${status}`, (one) => (one.responses[status].headers[name].schema = never)];
    for (const media of Object.keys(responses[status].content ?? {}))
      yield [`media type ${media} of ${status}`, (one) => delete one.responses[status].content[media]];
  }
}

/** Copies of the document, as { what, document, operation or component that it is about }. */
export function* falsified(document, seen) {
  for (const path of Object.keys(document.paths)) yield* ofPath(document, path, seen);
  for (const component of Object.keys(document.components.schemas)) yield* ofComponent(document, component);
}

function* ofPath(document, path, seen) {
  for (const [method, described] of Object.entries(document.paths[path])) {
    const operation = described.operationId;
    const lie = (what, change, at = path) => {
      const { [path]: methods, ...paths } = structuredClone(document.paths);
      const { [method]: one, ...others } = methods;
      return { what: `${operation}: ${what}`, operation, document: { ...document, paths: { ...paths, [at]: change(one, others) } } };
    };
    yield lie('its path', (one) => ({ [method]: one }), `${path}/more`);
    yield lie('its method', (one) => ({ put: one }));
    const statuses = Object.keys(described.responses).filter((status) => seen.has(`${operation} ${status}`));
    for (const [what, change] of [...ofOperation(described, statuses), ...ofProperties(described, '')])
      yield lie(what, (one, others) => (change(one), { ...others, [method]: one }));
  }
}

function* ofComponent(document, component) {
  const lie = (what, change) => {
    const { schemas } = structuredClone(document.components);
    change(schemas[component]);
    return { what, component, document: { ...document, components: { ...document.components, schemas } } };
  };
  yield lie(`${component} needs more`, (schema) => (schema.required = ['nobody_sends_this']));
  for (const [what, change] of ofProperties(document.components.schemas[component], component)) yield lie(what, change);
}

function* ofProperties(part, where) {
  for (const [at, [, name, what]] of [...propertiesOf(part, where)].entries())
    yield [what, (copy) => ([...propertiesOf(copy, where)][at][0][name] = never)];
}
