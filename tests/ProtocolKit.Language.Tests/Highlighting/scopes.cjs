// Reads lines from standard input and prints, for each, its pieces with their scopes: "text<TAB>scope scope" a piece, a blank
// line after each line. Usage: node scopes.cjs GRAMMAR
const fs = require("fs");
const path = require("path");
const oniguruma = require("vscode-oniguruma");
const textmate = require("vscode-textmate");

async function main() {
  const wasm = path.join(path.dirname(require.resolve("vscode-oniguruma")), "onig.wasm");
  await oniguruma.loadWASM(fs.readFileSync(wasm).buffer);
  const registry = new textmate.Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (sources) => new oniguruma.OnigScanner(sources),
      createOnigString: (text) => new oniguruma.OnigString(text),
    }),
    loadGrammar: async () => textmate.parseRawGrammar(fs.readFileSync(process.argv[2], "utf8"), process.argv[2]),
  });
  const grammar = await registry.loadGrammar("source.protocol");
  let state = textmate.INITIAL;
  const written = [];
  for (const line of fs.readFileSync(0, "utf8").split("\n")) {
    const result = grammar.tokenizeLine(line, state);
    state = result.ruleStack;
    for (const piece of result.tokens) {
      written.push(line.slice(piece.startIndex, piece.endIndex) + "\t" + piece.scopes.slice(1).join(" "));
    }
    written.push("");
  }
  process.stdout.write(written.join("\n") + "\n");
}

main();
