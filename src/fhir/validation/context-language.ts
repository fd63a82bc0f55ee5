import fhirpath from 'fhirpath';
import r4 from 'fhirpath/fhir-context/r4';
import type { ContextCondition } from './extension-definitions.js';
import { isJsonObject, type JsonObject, type Walk } from './walk.js';

/** StructureDefinition.context of type fhirpath: whether the expression, on the resource, gives what is extended. */
export function compileContextPath(expression: string): ContextCondition {
  const evaluate = compileExpression(expression);
  return ({ extended }, extension, walk) => {
    const plain = walk.plainOf(extended);
    return evaluate(walk.plainOf(walk.resource), extension, walk).some(
      (node) => isJsonObject(node) && (node['data'] === plain || node['_data'] === plain),
    );
  };
}

/** StructureDefinition.contextInvariant: whether the expression, on what is extended, is not false. */
export function compileContextInvariant(expression: string): ContextCondition {
  const byContent = new Map<string, Evaluate>();
  return ({ extended, content }, extension, walk) => {
    let evaluate = byContent.get(content);
    if (evaluate === undefined) {
      evaluate = compileExpression(expression, content);
      byContent.set(content, evaluate);
    }
    return !evaluate(walk.plainOf(extended), extension, walk).some(isFalse);
  };
}

const isFalse = (node: unknown): boolean => node === false || (isJsonObject(node) && node['data'] === false);

type Evaluate = (input: unknown, extension: JsonObject, walk: Walk) => readonly unknown[];

const OPTIONS = { resolveInternalTypes: false, traceFn: (): void => undefined } as const;

/** `base`: what the input is; a whole resource says so itself. */
function compileExpression(expression: string, base?: string): Evaluate {
  const evaluate = fhirpath.compile(base === undefined ? expression : { base, expression }, r4, OPTIONS);
  return (input, extension, walk) => {
    try {
      const nodes: readonly unknown[] = evaluate(input, {
        extension: typedExtension(walk.plainOf(extension)),
        resource: walk.plainOf(walk.resource),
        rootResource: walk.plainOf(walk.container),
      });
      return nodes;
    } catch {
      // What cannot be evaluated says nothing against the extension.
      return [];
    }
  };
}

/** The extension as FHIRPath has it when it knows that it is one: `value` is then `valueString`. */
const typedExtension = fhirpath.compile({ base: 'Extension', expression: '$this' }, r4, OPTIONS);
