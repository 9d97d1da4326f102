import { getTableConfig, SQLiteTable } from 'drizzle-orm/sqlite-core';
import { describe, expect, it } from 'vitest';
import * as tables from '../../server/schema/tables.ts';
import { tableNames } from '../support/contents.ts';
import { testApp } from '../support/test-app.ts';

type Column = { name: string; type: string; notnull: number; pk: number };

const declared = Object.values(tables)
  .filter((table) => table instanceof SQLiteTable)
  .map((table) => getTableConfig(table));

const rowsOf = async <T>(sql: string, ...values: unknown[]) =>
  (await testApp()).sqlite.prepare(sql).all(...values) as T[];

/** Without those a search index keeps for itself, and the migrations' own. */
const namesIn = async () => tableNames((await testApp()).sqlite).filter((name) => name !== 'migrations');

/** A not-null primary key that is a rowid has no NOT NULL of its own. */
const inDatabase = (column: Column) =>
  `${column.name} ${column.type.toLowerCase()}${column.notnull || column.pk ? ' needed' : ''}`;

describe('the schema', () => {
  it('in the program names every table of the database', async () => {
    const names = declared.map(({ name }) => name).sort();
    const views = (await rowsOf<{ name: string }>("SELECT name FROM sqlite_schema WHERE type = 'view'")).map(
      ({ name }) => name,
    );
    expect(names.filter((name) => !views.includes(name))).toEqual(await namesIn());
  });

  it.each(declared.map((table) => [table.name, table] as const))(
    'of %s is that of the database',
    async (name, table) => {
      const stored = await rowsOf<Column>('SELECT name, type, "notnull", pk FROM pragma_table_info(?)', name);
      const primary = new Set(
        table.primaryKeys.flatMap(({ columns }) => columns.map((column) => column.name)),
      );
      const ours = table.columns.map(
        (column) =>
          `${column.name} ${column.getSQLType().toLowerCase()}${column.notNull || column.primary || primary.has(column.name) ? ' needed' : ''}`,
      );
      expect(ours.sort()).toEqual(stored.map(inDatabase).sort());
    },
  );

  it('is strict about types in every table', async () => {
    const loose = await rowsOf<{ name: string }>(
      "SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND strict = 0 AND name NOT LIKE 'sqlite_%'",
    );
    expect(loose).toEqual([]);
  });

  it('holds in every list of values what the program holds in it', async () => {
    const { sqlite } = await testApp();
    const wrong = declared.flatMap(({ name: table, columns }) => {
      const sql = sqlite.prepare('SELECT sql FROM sqlite_schema WHERE name = ?').pluck().get(table) as string;
      return columns.flatMap(({ name, enumValues = [] }) => {
        const isListedElsewhere = new RegExp(`\\b${name} [A-Z ]+ REFERENCES`).test(sql);
        if (enumValues.length === 0 || isListedElsewhere) return [];
        const [, list = ''] = new RegExp(`\\b${name} IN\\s*\\(([^)]*)\\)`).exec(sql) ?? [];
        const stored = [...list.matchAll(/'([^']*)'/g)].map(([, value]) => value);
        return stored.sort().join() === [...enumValues].sort().join() ? [] : [`${table}.${name}: ${list}`];
      });
    });
    expect(wrong).toEqual([]);
  });

  it('lets no column fill itself with a time', async () => {
    const timed = await rowsOf<{ name: string }>(
      "SELECT t.name || '.' || c.name AS name FROM sqlite_schema t, pragma_table_info(t.name) c WHERE t.type = 'table' AND c.dflt_value LIKE '%time%'",
    );
    expect(timed).toEqual([]);
  });

  it('lets nothing be pulled along when a fact or a parent is deleted, but for what means nothing alone', async () => {
    const cascades = await rowsOf<{ which: string }>(
      "SELECT t.name || ' -> ' || k.\"table\" AS which FROM sqlite_schema t, pragma_foreign_key_list(t.name) k WHERE t.type = 'table' AND k.on_delete <> 'NO ACTION' AND k.on_delete <> 'RESTRICT' ORDER BY 1",
    );
    expect(cascades.map(({ which }) => which)).toEqual([
      'arrival_photo_files -> arrival_photos',
      'care_version_terms -> care_versions',
      'care_version_texts -> care_versions',
      'care_versions -> species',
      'count_photo_files -> count_photos',
      'count_photos -> cultures',
      'culture_estimates -> cultures',
      'culture_plans -> cultures',
      'detection_pairs -> detection_updates',
      'detection_updates -> species',
      'estimate_points -> cultures',
      'half_sign_ins -> people',
      'known_devices -> people',
      'label_prints -> cultures',
      'one_time_links -> people',
      'population_states -> cultures',
      'put_offs -> cultures',
      'recipe_layer_parts -> recipe_layers',
      'recipe_layers -> species',
      'recovery_codes -> people',
      'round_counts -> cultures',
      'second_factors -> people',
      'sessions -> people',
      'species_care -> species',
      'species_layer_parts -> species_layers',
      'species_layers -> species',
      'species_packing -> species',
      'start_put_offs -> feeder_species',
      'unlisted_species -> species',
    ]);
  });
});
