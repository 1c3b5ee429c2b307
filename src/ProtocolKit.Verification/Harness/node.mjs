// One batch a line on standard input, one answer a line on standard output.
import { createInterface } from "node:readline";
import { run } from "./harness.mjs";

for await (const batch of createInterface({ input: process.stdin, crlfDelay: Infinity })) {
  process.stdout.write(run(batch) + "\n");
}
