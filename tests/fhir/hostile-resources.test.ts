import { test } from 'vitest';
import { validateHostileResources } from './hostile-resources.js';

test('20,000 mutated resources are told about, each fault with its place, and nothing is thrown', () => {
  validateHostileResources(20_000, 20_264);
}, 120_000);
