import { type ParseArgsConfig, parseArgs } from 'node:util';
import { BadBackup } from '../server/backups/inspect.ts';
import { ConfigError } from '../server/config.ts';
import { databaseFaultOf } from '../server/plumbing/database-faults.ts';
import { MigrationError } from '../server/plumbing/migrate.ts';
import { AlreadyInUse } from '../server/plumbing/one-instance.ts';
import type { World } from './import-command.ts';
import { CannotOpen } from './open-records.ts';

const OK = 0;
const FAILED = 1;
const WRONG = 2;

/** The words of the call are wrong. */
export class WrongWords extends Error {}

export type Words = {
  values: Record<string, string | boolean | undefined>;
  positionals: string[];
};

export type Command = {
  usage: string;
  options: NonNullable<ParseArgsConfig['options']>;
  run: (words: Words, world: World) => Promise<void> | void;
};

const isExpected = (error: unknown): error is Error =>
  [BadBackup, ConfigError, MigrationError, AlreadyInUse, CannotOpen].some((kind) => error instanceof kind);

function read({ options, usage }: Command, args: readonly string[]): Words {
  try {
    const all = { ...options, help: { type: 'boolean' } } as const;
    return parseArgs({ args: [...args], options: all, allowPositionals: true, strict: true }) as Words;
  } catch (error) {
    throw new WrongWords(`${(error as Error).message.split('\n')[0]}\n\n${usage}`);
  }
}

/** Runs a command as its words ask and returns the exit code: 0 done, 1 it could not be done, 2 wrong words. */
export const command =
  (one: Command) =>
  async (args: readonly string[], world: World): Promise<number> => {
    try {
      const words = read(one, args);
      if (words.values.help) world.output.write(one.usage);
      else await one.run(words, world);
      return OK;
    } catch (error) {
      if (error instanceof WrongWords) {
        world.errors.write(`${error.message}\n`);
        return WRONG;
      }
      if (databaseFaultOf(error) === 'busy') {
        world.errors.write('Somebody else is writing to the database just now. Try again.\n');
        return FAILED;
      }
      if (!isExpected(error)) throw error;
      world.errors.write(`${error.message}\n`);
      return FAILED;
    }
  };
