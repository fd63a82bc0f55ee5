import fhirpath from 'fhirpath';
import r4 from 'fhirpath/fhir-context/r4';
import type { ContextCondition } from './extension-definitions.js';
import { isJsonObject, type JsonObject, type Walk } from './walk.js';

type Evaluate = (input: unknown, extension: JsonObject, walk: Walk) => readonly unknown[];

/** StructureDefinition.context of type fhirpath: whether the expression, on the resource, gives the element. */
export function compileContextPath(expression: string): ContextCondition {
  const evaluate = compileExpression(expression);
  return (element, extension, walk) => {
    const plain = walk.plainOf(element);
    return evaluate(walk.plainOf(walk.resource), extension, walk).some(
      (node) => isJsonObject(node) && (node['data'] === plain || node['_data'] === plain),
    );
  };
}

/** StructureDefinition.contextInvariant: whether the expression, on the element, is true; what it cannot tell holds. */
export function compileContextInvariant(expression: string): ContextCondition {
  const evaluate = compileExpression(expression);
  return (element, extension, walk) =>
    !evaluate(walk.plainOf(element), extension, walk).some(
      (node) => node === false || (isJsonObject(node) && node['data'] === false),
    );
}

function compileExpression(expression: string): Evaluate {
  const evaluate = fhirpath.compile(expression, r4, {
    resolveInternalTypes: false,
    traceFn: () => undefined,
  });
  return (input, extension, walk) => {
    try {
      const nodes: readonly unknown[] = evaluate(input, {
        extension: walk.plainOf(extension),
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
