import type { RouteTable } from '../plumbing/route-table.ts';
import { showSubstrate } from './list.ts';
import { askMaterials, saveMaterials } from './materials.ts';
import { askRecipe, dropRecipe, saveOwnRecipe } from './recipe.ts';

const nav = 'cultures';
const recipe = '/substrate/recipes/:species/:enclosure';

export const substrateRoutes: RouteTable = [
  { method: 'GET', path: '/substrate', access: 'helper', nav, handler: showSubstrate },
  { method: 'GET', path: '/substrate/materials', access: 'helper', nav, handler: askMaterials },
  { method: 'POST', path: '/substrate/materials', access: 'helper', nav, handler: saveMaterials },
  { method: 'GET', path: recipe, access: 'owner', nav, handler: askRecipe },
  { method: 'POST', path: recipe, access: 'owner', nav, handler: saveOwnRecipe },
  { method: 'POST', path: `${recipe}/drop`, access: 'owner', nav, handler: dropRecipe },
];
