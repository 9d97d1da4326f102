// `npm run export -- --dir DIR`: everything as CSV and JSON files, the same as the page gives.
import { argv, stderr, stdout } from 'node:process';
import { exportRecords } from './export-command.ts';

process.exitCode = exportRecords(argv.slice(2), {
  output: stdout,
  errors: stderr,
  env: process.env,
  now: Date.now,
});
