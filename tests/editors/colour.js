// Colours texts as editors do: node colour.js NODE_MODULES GRAMMAR < texts as a JSON list > pieces as JSON.
"use strict";
const [modules, grammarFile] = process.argv.slice(2);
const fs = require("node:fs");
const path = require("node:path");
const oniguruma = require(path.join(modules, "vscode-oniguruma"));
const textmate = require(path.join(modules, "vscode-textmate"));

async function main() {
  const wasm = fs.readFileSync(path.join(modules, "vscode-oniguruma", "release", "onig.wasm"));
  await oniguruma.loadWASM(wasm.buffer);
  const registry = new textmate.Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
      createOnigString: (text) => new oniguruma.OnigString(text),
    }),
    loadGrammar: async () => textmate.parseRawGrammar(fs.readFileSync(grammarFile, "utf8"), grammarFile),
  });
  const grammar = await registry.loadGrammar("source.fretloom");
  const answers = JSON.parse(fs.readFileSync(0, "utf8")).map((text) => {
    let state = textmate.INITIAL;
    const lines = [];
    for (const line of text.split("\n")) {
      const result = grammar.tokenizeLine(line, state);
      state = result.ruleStack;
      lines.push(result.tokens.map((one) => [one.startIndex, one.endIndex, one.scopes.at(-1)]));
    }
    return lines;
  });
  process.stdout.write(JSON.stringify(answers));
}

main();
