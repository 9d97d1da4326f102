import type { WordUse } from '../../shared/records/result.ts';
import { type Option, type OptionGroup, SelectField } from '../layout/field.tsx';
import { fieldOf } from '../layout/form.tsx';
import { formatNumber } from '../layout/format.ts';
import { DataTable } from '../layout/table.tsx';
import type { FilePartProps } from './part-columns.tsx';
import { formFor, SayForm } from './part-form.tsx';
import { meaningOptions, originOptions, statusOptions } from './words.ts';

/** More words than these are no words any more; the rest is for a mapping file. */
const mostShown = 300;

const heads: Record<WordUse['of'], string> = {
  what: 'Word for what was done',
  origin: 'Word for where it comes from',
  status: 'Word for its status',
};
const optionsOf: Record<WordUse['of'], readonly (Option | OptionGroup)[]> = {
  what: meaningOptions,
  origin: originOptions,
  status: statusOptions,
};
const prefixOf: Record<WordUse['of'], string> = { what: 'word', origin: 'origin', status: 'status' };
const nameOf = (use: WordUse) => `${prefixOf[use.of]}.${use.word}`;

/** Open ones first, then the most used. */
const byNeed = (a: WordUse, b: WordUse) =>
  Number(a.means !== null) - Number(b.means !== null) || b.rows - a.rows;

/** Each distinct word of the file, how many rows have it, and what it is taken to mean. */
export function WordList({ furniture, action, version, file, returned }: FilePartProps) {
  const words = [...file.reading.words].sort(byNeed);
  if (words.length === 0) return null;
  const values = Object.fromEntries(words.map((use) => [nameOf(use), use.means]));
  const form = formFor(returned, `file${file.number}`, values);
  const shown = words.slice(0, mostShown);
  const kinds = new Set(words.map((use) => use.of)).size;
  return (
    <SayForm
      furniture={furniture}
      action={action}
      version={version}
      form={form}
      part="words"
      keyPart={`words${file.number}`}
      button="Take the words so"
    >
      <DataTable
        caption={`Words of ${file.reading.name}`}
        hideCaption
        rows={shown}
        rowKey={nameOf}
        rowTone={(use) => (use.means === null ? 'needs-you' : undefined)}
        columns={[
          { key: 'word', head: 'Word', rowHeader: true, cell: (use) => <strong>{use.word}</strong> },
          ...(kinds > 1 ? [{ key: 'of', head: 'It stands for', cell: (use: WordUse) => heads[use.of] }] : []),
          { key: 'rows', head: 'Rows', numeric: true, cell: (use) => formatNumber(use.rows) },
          {
            key: 'means',
            head: 'It means',
            phoneWide: true,
            cell: (use) => (
              <SelectField
                label={`What “${use.word}” means`}
                hideLabel
                empty="Say what it means"
                options={optionsOf[use.of]}
                {...fieldOf(form, nameOf(use))}
              />
            ),
          },
        ]}
      />
      {words.length > shown.length && (
        <p class="quiet">
          And {formatNumber(words.length - shown.length)} more words. Choose the column that holds what was
          done, or say what they mean in a saved mapping.
        </p>
      )}
    </SayForm>
  );
}
