import { backUp } from './backup-command.ts';
import { command } from './command.ts';
import { dataSheet } from './data-sheet-command.ts';
import { doctor } from './doctor-command.ts';
import { newLinkKey } from './new-link-key-command.ts';
import { pause } from './pause-command.ts';
import { person } from './person-command.ts';
import { restore } from './restore-command.ts';
import { trialCopy } from './trial-copy-command.ts';
import { vacuum } from './vacuum-command.ts';
import { verify } from './verify-command.ts';
import { withoutCode } from './without-code-command.ts';

/** Every command of the administrator by its word. */
export const commands = {
  backup: command(backUp),
  restore: command(restore),
  verify: command(verify),
  pause: command(pause),
  person: command(person),
  'data-sheet': command(dataSheet),
  doctor: command(doctor),
  vacuum: command(vacuum),
  'trial-copy': command(trialCopy),
  'new-link-key': command(newLinkKey),
  'without-code': command(withoutCode),
} as Readonly<Record<string, ReturnType<typeof command>>>;
