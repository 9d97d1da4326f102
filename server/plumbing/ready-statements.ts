import type { Sqlite } from './open-database.ts';

/** About ten megabytes of statements at most; a page asks some dozens, over and over again the same. */
const most = 500;

/**
 * The connection as the query builder is given it: it makes each statement ready anew whenever it is asked, which costs
 * more than running most of them, so they are kept by their text, those asked longest ago going first. SQLite itself
 * makes one ready anew where the schema has changed since.
 */
export function withReadyStatements(sqlite: Sqlite): Sqlite {
  const ready = new Map<string, ReturnType<Sqlite['prepare']>>();
  const make = sqlite.prepare;
  const prepare = (text: string) => {
    // Somebody listens to what is asked (a test): nothing is kept from them.
    if (sqlite.prepare !== make) return sqlite.prepare(text);
    const kept = ready.get(text);
    ready.delete(text);
    // One that is being read row by row cannot be asked a second time meanwhile.
    const statement = kept && !kept.busy ? kept : sqlite.prepare(text);
    // How rows are wanted is said by whoever asks, each time.
    if (statement.reader) statement.raw(false).pluck(false);
    ready.set(text, statement);
    if (ready.size > most) ready.delete(ready.keys().next().value ?? '');
    return statement;
  };
  const transaction = sqlite.transaction.bind(sqlite);
  return new Proxy(sqlite, {
    get(target, name) {
      if (name === 'prepare') return prepare;
      return name === 'transaction' ? transaction : Reflect.get(target, name, target);
    },
  });
}
