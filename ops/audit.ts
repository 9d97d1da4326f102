// npm run audit: asks the registry for known faults of the packages that the service runs with. Ends with 1 where one of
// high or critical severity is not on the list in ops/audit-allowed.ts; a registry that does not answer is said, and
// does not stop anybody.
import { spawnSync } from 'node:child_process';
import { allowedAdvisories } from './audit-allowed.ts';
import { judgeAudit } from './audit-report.ts';

const asked = spawnSync('npm', ['audit', '--omit=dev', '--json'], { encoding: 'utf8', timeout: 60_000 });
const judged = judgeAudit(asked.stdout ?? '', allowedAdvisories, new Date().toISOString().slice(0, 10));
if (judged.kind === 'no answer') {
  console.log(`Not audited: ${judged.words}.`);
} else {
  for (const one of judged.open) console.error(`${one.severity}: ${one.name}: ${one.title} ${one.url}`);
  for (const one of judged.milder) console.log(`${one.severity}: ${one.name}: ${one.title} ${one.url}`);
  for (const one of judged.idle) console.log(`No longer needed on the list: ${one.url}`);
  console.log(
    `Audited: ${judged.open.length} open of high or critical severity, ${judged.allowed.length} on the list.`,
  );
  if (judged.open.length > 0) process.exitCode = 1;
}
