// Reads the plain part of YAML that records are written in, and JSON: keys with values, nested by indentation, lists of such,
// texts in quotes, comments. Anything else is refused with its line, never guessed. Every value comes back as a text.
class UnreadableError extends Error {}

function readRecordText(text) {
  const clean = text.replace(/^\ufeff/, "").replace(/\r\n?/g, "\n");
  if (clean.trim() === "") {
    throw new UnreadableError("The file is empty.");
  }
  return clean.trimStart().startsWith("{") ? readJson(clean) : readYaml(clean);
}

function readJson(text) {
  try {
    return asTexts(JSON.parse(text));
  } catch (error) {
    throw error instanceof UnreadableError
      ? error
      : new UnreadableError("The file is not whole: it begins as JSON but doesn’t end as it should. It may have been cut off.");
  }
}

function asTexts(value, depth = 0) {
  if (depth > 8) {
    throw new UnreadableError("Lists stand inside lists here, deeper than any record needs.");
  }
  if (Array.isArray(value)) {
    return value.map((item) => asTexts(item, depth + 1));
  }
  if (value !== null && typeof value === "object") {
    return new Map(Object.entries(value).map(([key, item]) => [key, asTexts(item, depth + 1)]));
  }
  return value === null ? "" : typeof value === "boolean" ? (value ? "yes" : "no") : String(value);
}

function readYaml(text) {
  const lines = text
    .split("\n")
    .map((line, i) => ({ number: i + 1, text: withoutComment(line, i + 1) }))
    .filter((line) => line.text.trim() !== "" && line.text.trim() !== "---");
  const reader = { lines, at: 0 };
  const map = readMapAt(reader, 0);
  if (reader.at < lines.length) {
    refuse(lines[reader.at], "This line stands too far to the left or right.");
  }
  return map;
}

function refuse(line, why) {
  throw new UnreadableError(`Line ${line.number}: ${why}`);
}

// Without what follows a # that begins a comment: at the line's start or after a space, outside quotes.
function withoutComment(line, number) {
  if (/^\s*\t/.test(line)) {
    refuse({ number }, "A tab stands at the start. Indent with spaces.");
  }
  let quote = null;
  for (let i = 0; i < line.length; i += 1) {
    const c = line[i];
    if (quote === '"' && c === "\\") {
      i += 1;
    } else if (quote !== null) {
      quote = c === quote ? null : quote;
    } else if ((c === '"' || c === "'") && /(^|[:\-,[{]\s*)$/.test(line.slice(0, i).trimStart() === "" ? "" : line.slice(0, i))) {
      quote = c;
    } else if (c === "#" && (i === 0 || /\s/.test(line[i - 1]))) {
      return line.slice(0, i).trimEnd();
    }
  }
  if (quote !== null) {
    refuse({ number }, "A quotation mark isn’t closed here.");
  }
  return line.trimEnd();
}

function indentOf(line) {
  return line.text.length - line.text.trimStart().length;
}

function readMapAt(reader, indent) {
  const map = new Map();
  while (reader.at < reader.lines.length) {
    const line = reader.lines[reader.at];
    if (indentOf(line) < indent || line.text.trimStart().startsWith("- ")) {
      break;
    }
    if (indentOf(line) > indent) {
      refuse(line, "This line is indented further than the one it belongs to.");
    }
    const [key, rest] = keyOf(line);
    if (map.has(key)) {
      refuse(line, `“${key}” stands here for the second time.`);
    }
    reader.at += 1;
    map.set(key, rest === "" ? readBelow(reader, indent) : readScalar(rest, line));
  }
  return map;
}

function keyOf(line) {
  const text = line.text.trim();
  const found = /^("(?:[^"\\]|\\.)*"|'[^']*'|[^\s"'#&*!|>%@`{[][^:]*?)\s*:(?:\s+(.*))?$/.exec(text);
  if (found === null) {
    refuse(line, "A line has a key, a colon, a space and a value.");
  }
  const key = /^["']/.test(found[1]) ? readScalar(found[1], line) : found[1];
  return [key, (found[2] ?? "").trim()];
}

// What stands under a key without a value: a deeper map, a list at the same depth or deeper, or nothing.
function readBelow(reader, indent) {
  const next = reader.lines[reader.at];
  if (next === undefined) {
    return "";
  }
  const isList = /^- |^-$/.test(next.text.trimStart());
  if (isList && indentOf(next) >= indent) {
    return readListAt(reader, indentOf(next));
  }
  return indentOf(next) > indent ? readMapAt(reader, indentOf(next)) : "";
}

function readListAt(reader, indent) {
  const items = [];
  while (reader.at < reader.lines.length) {
    const line = reader.lines[reader.at];
    if (indentOf(line) !== indent || !line.text.trimStart().startsWith("- ")) {
      break;
    }
    // The item's first key stands on the line of the hyphen; its others stand below it.
    const inner = line.text.slice(0, indent) + "  " + line.text.slice(indent + 2);
    const lead = inner.length - inner.trimStart().length;
    reader.lines[reader.at] = { ...line, text: inner };
    items.push(readMapAt(reader, lead));
  }
  return items;
}

function readScalar(text, line) {
  if (text.startsWith('"')) {
    return readDouble(text, line);
  }
  if (text.startsWith("'")) {
    if (!/^'(?:[^']|'')*'$/.test(text)) {
      refuse(line, "A quotation mark isn’t closed here.");
    }
    return text.slice(1, -1).replace(/''/g, "'");
  }
  if (text === "{}" || text === "~" || text === "null") {
    return "";
  }
  if (/^[&*!|>%@`{[]/.test(text)) {
    refuse(line, "This page reads plain values only. Put the text in double quotes.");
  }
  return text;
}

function readDouble(text, line) {
  if (!/^"(?:[^"\\]|\\.)*"$/.test(text)) {
    refuse(line, "A quotation mark isn’t closed here, or something follows it.");
  }
  try {
    return JSON.parse(text.replace(/\t/g, "\\t"));
  } catch {
    refuse(line, "A backslash in this text means nothing here.");
  }
  return "";
}
