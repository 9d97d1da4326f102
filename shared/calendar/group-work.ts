import { type DueKind, dueKinds } from '../checks/care-due.ts';
import type { Day } from '../days.ts';

/** One thing that one culture wants on a day. */
export type Work<Room> = { onDay: Day; what: DueKind; code: string; room: Room | null };

export type DaysWork<Room> = {
  onDay: Day;
  room: Room | null;
  /** What is to do there, in the order of the round, with the cultures that want it. */
  kinds: { what: DueKind; codes: string[] }[];
};

/**
 * Answers: what is due on each day in each room, so that a calendar shows one entry for it: days in order, rooms by
 * name, what stands nowhere last; the codes keep the order they come in.
 *
 * @example groupWork([{ onDay: '2026-11-25', what: 'feed', code: 'A-1', room }, { ..., what: 'feed', code: 'A-2', room }])
 * // [{ onDay: '2026-11-25', room, kinds: [{ what: 'feed', codes: ['A-1', 'A-2'] }] }]
 */
export function groupWork<Room extends { id: number; name: string }>(
  work: readonly Work<Room>[],
): DaysWork<Room>[] {
  const groups = new Map<string, { onDay: Day; room: Room | null; byKind: Map<DueKind, string[]> }>();
  for (const { onDay, what, code, room } of work) {
    const key = `${onDay} ${room?.id ?? ''}`;
    const group = groups.get(key) ?? { onDay, room, byKind: new Map() };
    groups.set(key, group);
    group.byKind.set(what, [...(group.byKind.get(what) ?? []), code]);
  }
  return [...groups.values()]
    .map(({ onDay, room, byKind }) => ({
      onDay,
      room,
      kinds: dueKinds.flatMap((what) => {
        const codes = byKind.get(what);
        return codes ? [{ what, codes }] : [];
      }),
    }))
    .sort(
      (a, b) =>
        a.onDay.localeCompare(b.onDay) ||
        Number(a.room === null) - Number(b.room === null) ||
        (a.room?.name ?? '').localeCompare(b.room?.name ?? '', 'en'),
    );
}
