// `npm run import -- --help`: brings records from the command line, by the same importer as the page.
import { argv, stderr, stdout } from 'node:process';
import { importRecords } from './import-command.ts';

process.exitCode = await importRecords(argv.slice(2), {
  output: stdout,
  errors: stderr,
  env: process.env,
  now: Date.now,
});
