import { test } from 'vitest';
import { validateHostileResources } from './hostile-resources.js';

test('100,000 mutated resources are told about, each fault with its place, and nothing is thrown', () => {
  validateHostileResources(100_000, 20_265);
}, 600_000);
