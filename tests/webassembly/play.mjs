// Plays a script on the engine, in Node or in a page: the same calls, the same answers as texts.
//
// A script is a list of scenes: { name, text, steps }; a step is { ask }, { operations } (a patch of the present state),
// { undo: true } (of the last patch) or { text: true }. An answer is the text that the engine gave, for steps without a
// text of their own the JSON of what the wrapper returned.
export async function play(loadEngine, options, script) {
  const engine = await loadEngine(options);
  return script.map(({ name, text, steps }) => {
    const opened = engine.open(text, { name });
    const answers = [JSON.stringify({ results: opened.results })];
    if (!opened.session) return answers;
    let undo = null;
    for (const step of steps) {
      if (step.ask) {
        answers.push(opened.session.askText(step.ask));
      } else if (step.text) {
        answers.push(opened.session.text());
      } else {
        const patch = step.undo ? undo : { base_revision: opened.session.revision, operations: step.operations };
        const done = opened.session.apply(patch);
        undo = done.results.undo ?? undo;
        answers.push(JSON.stringify(done));
      }
    }
    answers.push(JSON.stringify(opened.session.close()));
    return answers;
  });
}

/** The memory of the engine after a first round of opening, asking and closing, and after many more. */
export async function memoryOfRounds(loadEngine, options, { name, text }, question, rounds) {
  const engine = await loadEngine(options);
  const round = () => {
    const { session } = engine.open(text, { name });
    session.ask(question);
    session.apply('no patch');
    session.close();
  };
  for (let i = 0; i < 10; ++i) round();
  const first = engine.memoryBytes;
  for (let i = 0; i < rounds; ++i) round();
  return { first, last: engine.memoryBytes };
}

/** What the wrapper promises beside answers: each as a name and whether it is kept. */
export async function promises(loadEngine, options) {
  const engine = await loadEngine(options);
  const refused = engine.open('no site');
  const own = engine.open('{"format": "zoneproof-site", "version": 2, "revision": 1, "panels": {"p": {"part": "mine"}}}', {
    parts: '{"format": "zoneproof-parts", "version": 2, "parts": {"mine": {"kind": "panel", "panel": {}}}}',
  });
  const { session } = own;
  const odd = session?.ask({ command: 'prove', zone: '\u0000 \u20ac \u{1f6aa}' });
  const half = session?.ask({ command: 'prove', zone: '\ud800' });
  session?.close();
  const closed = session?.ask({ command: 'check' });
  let thrown = null;
  try {
    engine._call('nothing', [], []);
  } catch (fault) {
    thrown = fault;
  }
  let stopped = null;
  try {
    engine.open('{}');
  } catch (fault) {
    stopped = fault;
  }
  return {
    'a text that is no site opens nothing and says why': refused.session === null && refused.results.problems.length > 0,
    'own parts open a site that refers to them': session !== null,
    'any text of a page is a question': odd?.results.problems[0].code === 'no_such_zone',
    'half a character is refused': half?.results.problems?.length > 0,
    'a closed session says so': closed?.results.problems[0].code === 'session_not_open',
    'what must not happen is an EngineFault': thrown?.constructor.name === 'EngineFault',
    'and stops the engine': stopped?.constructor.name === 'EngineFault',
  };
}
