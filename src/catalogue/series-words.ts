import type { Observable } from './observables.js';

/**
 * The item under which an observable is trended: its movement, measure or act. The two numbers of an extension are
 * two items (`knee.extension-lacks`, `knee.extension-hyperextends`), pain at rest and on movement are two
 * (`pain-rest`, `pain-movement`), and what may be taken at several joints is of its joint (`knee.circumference`,
 * `knee.pain-rest`); without a joint it goes by itself (`gait-speed`, `pain-rest`).
 */
export function seriesItem({ kind, code, item, part }: Observable, joint?: string): string {
  if (kind === 'measure' || kind === 'pain') {
    const own = kind === 'pain' ? code : item;
    return joint === undefined ? own : `${joint}.${own}`;
  }
  return part === undefined ? item : `${item}-${part}`;
}

/** The digit of a series: `ring`, a joint of it `ring.pip`, of the thumb `ip`. */
export function seriesDigit(digit: string | undefined, digitJoint: string | undefined): string | undefined {
  const parts = [digit, digitJoint].filter((part) => part !== undefined);
  return parts.length === 0 ? undefined : parts.join('.');
}
