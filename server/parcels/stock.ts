import { h } from 'preact';
import { conductanceOf } from '../../shared/parcels/conductance.ts';
import { startingBoxes, startingPacks } from '../../shared/parcels/starting-stock.ts';
import { formatCount } from '../../views/layout/format.ts';
import { StockPage } from '../../views/parcels/page-stock.tsx';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import {
  boxNamed,
  boxOptionOf,
  insertBox,
  insertPack,
  listBoxes,
  listPacks,
  packNamed,
} from './queries-stock.ts';

export function showStock(call: StaffCall): Answer {
  const { furniture, business } = call;
  return page(
    h(StockPage, {
      furniture,
      units: business.units,
      currency: business.currency,
      mayEdit: call.who.role === 'owner',
      boxes: listBoxes(call.db).map((box) => ({
        ...box,
        insideL: (box.lengthMm * box.widthMm * box.heightMm) / 1e6,
        wPerK: conductanceOf(boxOptionOf(box)),
      })),
      packs: listPacks(call.db),
    }),
  );
}

/** Adds the starting boxes and packs that are not there yet, by their names. */
export function addStartingStock(call: StaffCall): Answer {
  const at = call.clock.now();
  const added = call.once((tx) => {
    const newBoxes = startingBoxes.filter(({ name }) => !boxNamed(tx, name));
    const newPacks = startingPacks.filter(({ name }) => !packNamed(tx, name));
    for (const box of newBoxes) {
      const id = insertBox(tx, box, at);
      note(tx, { at, personId: call.who.id, action: 'added', subject: `box ${id}`, after: { ...box } });
    }
    for (const pack of newPacks) {
      const id = insertPack(tx, pack, at);
      note(tx, { at, personId: call.who.id, action: 'added', subject: `pack ${id}`, after: { ...pack } });
    }
    return { boxes: newBoxes.length, packs: newPacks.length };
  });
  return redirect(
    '/parcels/stock',
    `${formatCount(added.boxes, 'box', 'boxes')} and ${formatCount(added.packs, 'pack')} are added. Put in your own measures and how many you have.`,
  );
}
