import { ChoiceField, fieldOf } from '../layout/form.tsx';
import { formatDay } from '../layout/format.ts';
import type { FilePartProps } from './part-columns.tsx';
import { formFor, SayForm } from './part-form.tsx';

/** The first example both ways: 02/03/2026 is 2 March or 3 February. */
function bothWays(example: string, locale: string | undefined): { dmy: string; mdy: string } {
  const match = /(\d{1,2})\D(\d{1,2})\D(\d{2,4})/.exec(example);
  if (!match) return { dmy: 'Day first', mdy: 'Month first' };
  const [one, two, year] = [match[1]!, match[2]!, match[3]!.padStart(4, '20')];
  const say = (day: string, month: string) =>
    formatDay(`${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`, locale, 'long');
  return { dmy: say(one, two), mdy: say(two, one) };
}

/** The questions about days that only a person can answer, with an example each. */
export function DateQuestions({ furniture, action, version, file, returned, locale }: DateProps) {
  const { mapping, questions } = file.reading;
  const order = questions.find((question) => question.kind === 'date-order');
  const serial = questions.find((question) => question.kind === 'serial-dates');
  if (!order && !serial) return null;
  const form = formFor(returned, `file${file.number}`, {
    dateOrder: mapping.dateOrder,
    serialDates: mapping.serialDates,
  });
  const example = order?.examples[0] ?? '';
  const words = bothWays(example, locale);
  return (
    <SayForm
      furniture={furniture}
      action={action}
      version={version}
      form={form}
      part="dates"
      keyPart={`dates${file.number}`}
      button="Read the days so"
    >
      {order && (
        <ChoiceField
          label={`In ${file.reading.name}, what day is ${example}?`}
          options={[
            { value: 'dmy', label: words.dmy, help: 'the day stands first' },
            { value: 'mdy', label: words.mdy, help: 'the month stands first' },
          ]}
          help={order.message}
          {...fieldOf(form, 'dateOrder')}
        />
      )}
      {serial && (
        <ChoiceField
          label={`In ${file.reading.name}, days are written as numbers. Where do they come from?`}
          options={[
            { value: '1900', label: 'Most spreadsheets', help: 'day 1 is 1 January 1900' },
            { value: '1904', label: 'An old Mac spreadsheet', help: 'day 0 is 1 January 1904' },
          ]}
          help={serial.message}
          {...fieldOf(form, 'serialDates')}
        />
      )}
    </SayForm>
  );
}

type DateProps = FilePartProps & { locale: string | undefined };
