import { BadInput } from '../core/base/finding.ts'
import { Cancelled } from '../core/base/task.ts'

/** To a worker: one piece of work. `stop[0]` becomes 1 when it is to be given up. */
export interface WorkMessage {
  readonly id: number
  readonly name: string
  readonly input: unknown
  readonly stop: Int32Array
}

/** From a worker. */
export type WorkReply =
  | { readonly id: number; readonly kind: 'progress'; readonly done: number; readonly what: string }
  | { readonly id: number; readonly kind: 'value'; readonly value: unknown }
  | { readonly id: number; readonly kind: 'error'; readonly error: PackedError }

/** An error as plain data: class and fields survive the way between threads. */
export type PackedError =
  | { readonly kind: 'cancelled' }
  | {
      readonly kind: 'bad-input'
      readonly code: string
      readonly subject: string
      readonly where: string
      readonly problem: string
      readonly fix: string
    }
  | { readonly kind: 'other'; readonly message: string }

export function packError(error: unknown): PackedError {
  if (error instanceof Cancelled) return { kind: 'cancelled' }
  if (error instanceof BadInput) {
    const { code, subject, where, problem, fix } = error
    return { kind: 'bad-input', code, subject, where, problem, fix }
  }
  return { kind: 'other', message: error instanceof Error ? error.message : String(error) }
}

export function unpackError(packed: PackedError): Error {
  switch (packed.kind) {
    case 'cancelled':
      return new Cancelled()
    case 'bad-input':
      return new BadInput(packed.code, packed.subject, packed.where, packed.problem, packed.fix)
    case 'other':
      return new Error(packed.message)
  }
}
