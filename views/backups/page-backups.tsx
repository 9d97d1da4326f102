import { PostButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Moment } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';

export type BackupLine = {
  name: string;
  madeAt: number;
  bytes: number;
  reason: 'nightly' | 'asked' | 'upgrade';
  /** Null when it was never restored. */
  provenAt: number | null;
};

export type BackupsPageProps = {
  furniture: Furniture;
  backups: readonly BackupLine[];
  /** What is being done just now; null when nothing is. */
  underWay: { step: 'copying' | 'checking' | 'proving'; share: number } | null;
  failure: { at: number; why: string } | null;
  lastProvenAt: number | null;
  /** False where this service makes none (a trial). */
  makesBackups: boolean;
  /** Where they are kept, on the machine of the service. */
  shelf: string;
  timeZone: string;
  locale: string;
};

const reasonWords = { nightly: 'at night', asked: 'asked for', upgrade: 'before an upgrade' } as const;

const stepWords = {
  copying: 'Copying the records',
  checking: 'Checking the copy',
  proving: 'Restoring it to a place of its own, to prove it',
} as const;

function size(bytes: number, locale: string): string {
  const megabytes = bytes / 1e6;
  const digits = megabytes < 10 ? 1 : 0;
  return `${new Intl.NumberFormat(locale, { maximumFractionDigits: digits }).format(megabytes)} MB`;
}

function UnderWay({ step, share }: NonNullable<BackupsPageProps['underWay']>) {
  return (
    <p
      class="progress"
      hx-get="/settings/backups"
      hx-trigger="every 2s"
      hx-select="#backups"
      hx-target="#backups"
      hx-swap="outerHTML"
    >
      <progress value={share} max={1} aria-label={stepWords[step]} />
      <span>
        {stepWords[step]} ... <a href="/settings/backups">Look again</a>
      </span>
    </p>
  );
}

function State(props: BackupsPageProps) {
  const { underWay, failure, lastProvenAt, timeZone, locale } = props;
  return (
    <>
      {underWay && <UnderWay {...underWay} />}
      {failure && !underWay && (
        <Notice tone="needs-you">
          The last try failed, <Moment at={failure.at} timeZone={timeZone} locale={locale} />: {failure.why}
        </Notice>
      )}
      <p>
        {lastProvenAt === null ? (
          'No backup has been restored yet.'
        ) : (
          <>
            Last proven restore: <Moment at={lastProvenAt} timeZone={timeZone} locale={locale} />.
          </>
        )}
      </p>
    </>
  );
}

function List({ backups, timeZone, locale }: BackupsPageProps) {
  if (backups.length === 0)
    return (
      <Empty title="There are no backups yet.">The first is made within a minute of the first start.</Empty>
    );
  return (
    <DataTable
      caption="Backups, the newest first"
      rows={backups}
      rowKey={({ name }) => name}
      rowTone={({ provenAt }) => (provenAt === null ? 'needs-you' : undefined)}
      columns={[
        {
          key: 'made',
          head: 'Made',
          phoneWide: true,
          cell: ({ madeAt }) => <Moment at={madeAt} timeZone={timeZone} locale={locale} />,
        },
        { key: 'why', head: 'Why', cell: ({ reason }) => reasonWords[reason] },
        { key: 'size', head: 'Size', numeric: true, cell: ({ bytes }) => size(bytes, locale) },
        {
          key: 'proven',
          head: 'Restored',
          cell: ({ provenAt }) => (provenAt === null ? 'not proven' : 'once, and whole'),
        },
        { key: 'name', head: 'Folder', hideOnPhone: true, cell: ({ name }) => <code>{name}</code> },
      ]}
    />
  );
}

export function BackupsPage(props: BackupsPageProps) {
  const { furniture, makesBackups, underWay, shelf } = props;
  return (
    <Shell
      furniture={furniture}
      title="Backups"
      purpose="Everything there is, photos too, copied every night and restored once to prove it."
      width="wide"
      breadcrumbs={[{ href: '/settings', label: 'Settings' }]}
      actions={
        makesBackups && !underWay ? (
          <PostButton furniture={furniture} action="/settings/backups" label="Back up now" kind="main" />
        ) : undefined
      }
    >
      {makesBackups ? (
        <div id="backups">
          <State {...props} />
          <List {...props} />
          <p>
            They lie in <code>{shelf}</code>, on the same machine. A fire or a thief takes both: have them
            sent elsewhere as well. Seven days, five weeks and twelve months are kept. Restoring is done on
            the machine, while the service is stopped: <code>npm run restore</code>.
          </p>
        </div>
      ) : (
        <Empty title="This service makes no backups.">It was started for a trial.</Empty>
      )}
    </Shell>
  );
}
