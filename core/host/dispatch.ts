import * as v from 'valibot'
import { type Handlers, type RequestName, requests } from './contract.ts'
import { cancelledCode, type Reply } from './reply.ts'

/** Parses and runs one request; never throws. Unknown names and malformed input are refused by name. */
export async function dispatch(handlers: Handlers, name: string, input: unknown): Promise<Reply<unknown>> {
  if (!Object.hasOwn(requests, name))
    return { ok: false, code: 'unknown-request', message: `no request "${name}"` }
  const request = name as RequestName
  const parsed = v.safeParse(requests[request], input)
  if (!parsed.success) {
    const issue = parsed.issues[0]
    return {
      ok: false,
      code: 'malformed',
      message: `${name}: ${v.getDotPath(issue) ?? 'input'}: ${issue.message}`,
    }
  }
  try {
    const handle = handlers[request] as (input: unknown) => Promise<unknown>
    return { ok: true, value: await handle(parsed.output) }
  } catch (error) {
    return failure(error)
  }
}

function failure(error: unknown): Reply<never> {
  if (!(error instanceof Error)) return { ok: false, code: 'failed', message: String(error) }
  const code = error.name === 'Cancelled' ? cancelledCode : 'code' in error ? String(error.code) : 'failed'
  return { ok: false, code, message: error.message }
}
