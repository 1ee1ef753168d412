// A double of the engine for tests of the page: the interface of docs/guide/engine.md, answered by the stand-in's command
// over a request that waits. It shows that page, worker and policy go together; that the engine itself answers as the command
// does is tested with the engine (tests/webassembly).
function wait(body) {
  const request = new XMLHttpRequest();
  request.open('POST', '/test/engine', false);
  request.send(JSON.stringify(body));
  return JSON.parse(request.responseText);
}

class Session {
  #said;
  constructor(said) {
    this.#said = said;
  }
  get revision() {
    return this.#said.revision;
  }
  apply(patch) {
    if (patch.base_revision.number !== this.revision.number) return { results: { problems: [{ text: 'made for another revision' }] } };
    const said = wait({ text: this.#said.text, operations: patch.operations, revision: this.revision });
    if (said.problems) return { results: { problems: said.problems } };
    this.#said = said;
    return { results: { revision: said.revision } };
  }
  ask(question) {
    return wait({ text: this.#said.text, question });
  }
  close() {}
}

export async function loadEngine() {
  return {
    open(text) {
      return { results: {}, session: new Session({ text, revision: { number: JSON.parse(text).revision ?? 0, sha256: '' } }) };
    },
  };
}
