import { argv, exit, stderr, stdin, stdout } from 'node:process';
import { calc } from './calc-command.ts';

// Whoever reads may stop early (`| head`); that is no failure of ours.
stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  exit(0);
});

process.exitCode = await calc(argv.slice(2), { input: stdin, output: stdout, errors: stderr });
