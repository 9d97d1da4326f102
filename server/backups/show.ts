import { h } from 'preact';
import { BackupsPage } from '../../views/backups/page-backups.tsx';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict } from '../plumbing/errors.ts';

export function showBackups(call: StaffCall): Answer {
  const { keeper, furniture, business, config } = call;
  const progress = keeper?.progress() ?? null;
  const { timeZone, locale } = business;
  return page(
    h(BackupsPage, {
      furniture,
      backups: keeper?.list() ?? [],
      underWay: progress && { step: progress.step, share: progress.done / Math.max(1, progress.total) },
      failure: keeper?.lastFailure() ?? null,
      lastProvenAt: keeper?.lastProvenAt() ?? null,
      makesBackups: keeper !== null,
      shelf: keeper?.shelf ?? config.backupDir,
      timeZone,
      locale,
    }),
  );
}

/** Written down first: that somebody asked stands in the backup itself. */
export function backUpNow(call: StaffCall): Answer {
  const { keeper } = call;
  if (!keeper) throw conflict('This service makes no backups: it was started for a trial.');
  call.once((tx) => {
    const by = { at: call.clock.now(), personId: call.who.id };
    note(tx, { ...by, action: 'asked for a backup', subject: 'records' });
    return true;
  });
  const begun = keeper.begin('asked');
  return redirect('/settings/backups', begun ? 'The backup has begun.' : 'A backup is being made already.');
}
