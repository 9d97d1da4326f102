import { h } from 'preact';
import { PhotoPage } from '../../views/counts/page-photo.tsx';
import { TapPage } from '../../views/counts/page-tap.tsx';
import { cultureHref } from '../../views/cultures/page-list.tsx';
import type { LoadedCulture } from '../cultures/queries.ts';
import { loadKeptCulture } from '../cultures/queries-kept.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { preparePhoto } from '../plumbing/prepare-photo.ts';
import { insertPhoto, photoBytes, readPhoto } from './queries-photos.ts';

const load = (call: StaffCall) => loadKeptCulture(call.db, call.params.code ?? '', 'counted');

const photoPage = (call: StaffCall, { culture, species }: LoadedCulture, error?: string) =>
  h(PhotoPage, {
    furniture: call.furniture,
    code: culture.code,
    scientificName: species.scientificName,
    form: { values: {}, errors: error ? { photo: error } : {} },
  });

export function askPhoto(call: StaffCall): Answer {
  return page(photoPage(call, load(call)));
}

export async function takePhoto(call: StaffCall): Promise<Answer> {
  const loaded = load(call);
  const { culture } = loaded;
  const before = call.outcome<number>();
  const to = (id: number) => redirect(`${cultureHref(culture.code)}/photo/${id}`);
  if (before !== null) return to(before);
  const file = call.uploads.find(({ field }) => field === 'photo');
  if (!file || file.bytes.length === 0)
    return wrongForm(photoPage(call, loaded, 'Take a photo or choose one from the phone.'));
  const prepared = await preparePhoto(file.bytes);
  if ('why' in prepared) return wrongForm(photoPage(call, loaded, prepared.why));
  const by = { personId: call.who.id, now: call.clock.now() };
  return to(call.once((tx) => insertPhoto(tx, culture.id, prepared.photo, by)));
}

export function askTaps(call: StaffCall): Answer {
  const { culture, species } = load(call);
  const photo = readPhoto(call.db, numberIn(call, 'id', 'photo'));
  if (photo?.cultureId !== culture.id) throw notFound('photo');
  if (photo.diaryId !== null) return redirect(`${cultureHref(culture.code)}/diary/${photo.diaryId}`);
  return page(
    h(TapPage, {
      furniture: call.furniture,
      code: culture.code,
      scientificName: species.scientificName,
      shows: species.detectionAlpha / (species.detectionAlpha + species.detectionBeta),
      photo: { ...photo, taps: [] },
      today: call.today,
    }),
  );
}

export function showPhoto(call: StaffCall): Answer {
  const id = numberIn(call, 'id', 'photo');
  const bytes = photoBytes(call.db, id);
  if (!bytes) throw notFound('photo');
  return { kind: 'file', body: bytes, type: 'image/jpeg', fileName: `photo-${id}.jpg`, inline: true };
}
