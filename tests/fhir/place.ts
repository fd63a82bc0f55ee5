import type { JsonObject } from './arbitrary-resource.js';

const STEP = /^(?:\.?([A-Za-z_]\w*)|\.?`((?:[^`\\]|\\.)*)`|\[(\d+)\])/;

/** The steps of a place in FHIRPath as the validator writes it; undefined when it is written otherwise. */
export function stepsOf(place: string): readonly (string | number)[] | undefined {
  const steps: (string | number)[] = [];
  let rest = place;
  while (rest !== '') {
    const step = STEP.exec(rest);
    if (step === null) return undefined;
    const [text, name, quoted, index] = step;
    steps.push(index === undefined ? (name ?? (quoted ?? '').replaceAll(/\\(.)/gs, '$1')) : Number(index));
    rest = rest.slice(text.length);
  }
  return steps;
}

/**
 * Whether a place leads through what a resource holds. Its last step may be missing there (a required element that is
 * absent); a name may be a choice (`value` for `valueQuantity`) or stand for the twin of a primitive.
 */
export function resolves(place: string, resource: unknown): boolean {
  const steps = stepsOf(place);
  if (steps === undefined) return false;
  let held: readonly unknown[] = [resource];
  for (const step of steps.slice(1)) {
    if (held.length === 0) return false;
    held = held.flatMap((value) => below(value, step));
  }
  return steps.length === 0 || typeof steps[0] === 'string';
}

/** The first item of what should be single and is an array stands for the whole too. */
function below(value: unknown, step: string | number): readonly unknown[] {
  if (typeof value !== 'object' || value === null) return [];
  if (typeof step === 'number') return Array.isArray(value) && step in value ? [value[step]] : [];
  const object = value as JsonObject;
  return Object.keys(object)
    .filter((key) => isNamed(key, step))
    .map((key) => object[key]);
}

function isNamed(key: string, name: string): boolean {
  const plain = key.startsWith('_') && !name.startsWith('_') ? key.slice(1) : key;
  return plain === name || (plain.startsWith(name) && /^[A-Z]/.test(plain.slice(name.length)));
}
