import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';

const lockFile = fileURLToPath(new URL('../package-lock.json', import.meta.url));

const lockShape = z.object({
  packages: z.record(
    z.string(),
    z.object({
      version: z.string().optional(),
      license: z.string().optional(),
      integrity: z.string().optional(),
      dev: z.boolean().optional(),
      optional: z.boolean().optional(),
      hasInstallScript: z.boolean().optional(),
    }),
  ),
});

/** A package of the lock file; `path` tells two versions of one name apart. */
export type Package = {
  path: string;
  name: string;
  version: string;
  licence: string;
  integrity: string;
  /** Needed to run the service, not only to test it. */
  isForRunning: boolean;
  /** Installed only where it suits the machine. */
  isOptional: boolean;
  runsOnInstall: boolean;
};

/** Packages whose own description names no licence, with the licence that comes along with them. */
const licenceBeside: Record<string, string> = { 'png-js': 'MIT' };

/** Every package of the lock file. */
export function lockedPackages(file = lockFile): Package[] {
  const { packages } = lockShape.parse(JSON.parse(readFileSync(file, 'utf8')));
  return Object.entries(packages)
    .filter(([path]) => path !== '')
    .map(([path, one]) => {
      const name = path.replace(/^.*node_modules\//, '');
      return {
        path,
        name,
        version: one.version ?? '',
        licence: one.license ?? licenceBeside[name] ?? '',
        integrity: one.integrity ?? '',
        isForRunning: !one.dev,
        isOptional: one.optional ?? false,
        runsOnInstall: one.hasInstallScript ?? false,
      };
    });
}
