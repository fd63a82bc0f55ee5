import { z } from 'zod';

/** The JSON Schema of a zod schema, for the description of the doors; what JSON Schema cannot say is left open. */
export function jsonSchemaOf(schema: z.ZodType): object {
  return z.toJSONSchema(schema, { unrepresentable: 'any', io: 'input' });
}
