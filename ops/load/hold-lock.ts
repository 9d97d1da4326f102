// A process of its own that holds the database's lock for a while, as a forgotten shell or a copying program would.
import { Database } from '../../server/plumbing/sqlite-driver.ts';

const [, , file = '', ms = '1000'] = process.argv;
const sqlite = new Database(file, { fileMustExist: true });
sqlite.pragma('busy_timeout = 10000');
sqlite.exec('BEGIN IMMEDIATE');
console.log('held');
setTimeout(() => {
  sqlite.exec('ROLLBACK');
  sqlite.close();
}, Number(ms));
