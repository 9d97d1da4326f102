// npm run --silent licences: every package that the service runs with, its version and its licence, as CSV.
import { stringify } from 'csv-stringify/sync';
import { lockedPackages } from './supply.ts';

const rows = lockedPackages()
  .filter(({ isForRunning }) => isForRunning)
  .map(({ name, version, licence }) => [name, version, licence]);
process.stdout.write(stringify([['package', 'version', 'licence'], ...rows]));
