/** The files of the export, as they are called in their addresses, with what each holds. */
const exportFiles = [
  ['cultures.csv', 'Cultures, as they can be brought in again'],
  ['diary.csv', 'The diary as it stands, as it can be brought in again'],
  ['diary-with-corrections.csv', 'Every diary entry, with what was corrected or taken out'],
  ['contacts.csv', 'Contacts between cultures besides those of the diary'],
  ['species.csv', 'Species with all their figures'],
  ['lines.csv', ''],
  ['enclosures.csv', ''],
  ['places.csv', ''],
  ['customers.csv', ''],
  ['orders.csv', ''],
  ['order-lines.csv', ''],
  ['people.csv', 'People, without passwords'],
] as const;

export function ExportLinks() {
  return (
    <section class="slip beside" aria-labelledby="export-title">
      <h2 id="export-title">Take everything out</h2>
      <p>
        <a href="/records/export/everything.json" download>
          Everything as one JSON file
        </a>
      </p>
      <p>
        <a href="/records/export/photos.tar" download>
          The photos that were counted on, and those of arrivals
        </a>
      </p>
      <p class="under">
        With the readings of the air as long as they are kept singly (see{' '}
        <a href="/settings/readings">how long</a>), and what every day came to.
      </p>
      <p>Or as CSV for a spreadsheet:</p>
      <ul class="export-list">
        {exportFiles.map(([file, words]) => (
          <li key={file}>
            <a href={`/records/export/${file}`} download>
              {file}
            </a>
            {words !== '' && <span class="under">{words}</span>}
          </li>
        ))}
      </ul>
    </section>
  );
}
