// Runs before each test file.
import fc from 'fast-check';
import { closeAfterFile } from './leaving.ts';

// Every run of the suite asks the same questions, so that it never fails for a change that is not to blame for it.
// New questions are asked by `npm run soak`, which sets a seed of its own each time and says which.
fc.configureGlobal({ seed: Number(process.env.PROPERTY_SEED ?? 20_261_125) });

closeAfterFile();
