// What an administrator does from the command line, one word for each: `npm run backup`, `npm run restore -- --help`.
import { argv, stderr, stdout } from 'node:process';
import { commands } from './admin-commands.ts';

process.umask(0o077);
const [name = '', ...words] = argv.slice(2);
const command = commands[name];
if (command) {
  process.exitCode = await command(words, {
    output: stdout,
    errors: stderr,
    env: process.env,
    now: Date.now,
  });
} else {
  stderr.write(`There are: ${Object.keys(commands).join(', ')}\n`);
  process.exitCode = 2;
}
