import { commandLine } from './command-line';
import { asFileFault } from './faults';

const complain = (text: string): void => {
  process.stderr.write(`${text}\n`);
};

// Whoever reads our output may stop reading (`| head`): that is no fault of the command.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(0);
  complain(asFileFault(error)?.lines.join('\n') ?? error.message);
  process.exit(2);
});

const print = (text: string): void => {
  process.stdout.write(`${text}\n`);
};

process.exitCode = await commandLine(process.argv.slice(2), print, complain);
