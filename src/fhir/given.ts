/** The same object without the keys that hold `undefined`; FHIR JSON and `Exam` leave out what is not said. */
export type Given<T> = {
  [K in keyof T as undefined extends T[K] ? never : K]: T[K];
} & {
  [K in keyof T as undefined extends T[K] ? K : never]?: Exclude<T[K], undefined>;
};

/** Drops the keys that hold `undefined`. */
export function given<T extends object>(value: T): Given<T> {
  return Object.fromEntries(Object.entries(value).filter(([, held]) => held !== undefined)) as Given<T>;
}
