// `npm run build`: builds the service beforehand, where it will be started by somebody who may not write here.
import { builtFolder } from './built.mjs';

console.log(await builtFolder());
