import { cpus, totalmem } from 'node:os';
import { parseArgs } from 'node:util';
import { PARTS } from './parts';

/*
 * `npm run bench`: one table, with what is measured and its bar; exit 1 when a bar is missed. `-- --quick` tries fewer
 * seeds and sizes; `-- --only map,start` runs some parts.
 */
const { values } = parseArgs({ options: { quick: { type: 'boolean', default: false }, only: { type: 'string' } } });
const wanted = values.only?.split(',');
const unknown = wanted?.filter((name) => !PARTS.some((part) => part.name === name)) ?? [];
if (unknown.length > 0) {
  process.stderr.write(`No part ${unknown.join(', ')}: there are ${PARTS.map(({ name }) => name).join(', ')}.\n`);
  process.exit(2);
}

const [cpu] = cpus();
const machine = `${cpu?.model ?? 'unknown processor'} × ${cpus().length}, ${Math.round(totalmem() / 2 ** 30)} GiB, Node ${process.version}`;
process.stdout.write(`${machine}\n\n| part | what | measured | bar | |\n| --- | --- | ---: | ---: | --- |\n`);
let missed = 0;
for (const part of PARTS) {
  if (wanted && !wanted.includes(part.name)) continue;
  for (const { what, measured, bar, missed: isMissed } of await part.run(values.quick)) {
    if (isMissed) missed += 1;
    process.stdout.write(`| ${part.name} | ${what} | ${measured} | ${bar ?? ''} | ${isMissed ? 'missed' : ''} |\n`);
  }
}
if (missed > 0) process.stderr.write(`${missed} bars missed\n`);
process.exitCode = missed > 0 ? 1 : 0;
