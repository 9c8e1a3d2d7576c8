import { existsSync, readdirSync, statSync } from 'node:fs'
import type { IncomingMessage } from 'node:http'
import { dirname } from 'node:path'
import { Readable } from 'node:stream'
import { describe, expect, it } from 'vitest'
import { openInbox, safeName } from '../../electron/upload.ts'

/** A request as far as a body goes. */
function sent(pieces: readonly string[], announced?: number): IncomingMessage {
  const headers = announced === undefined ? {} : { 'content-length': String(announced) }
  return Object.assign(Readable.from(pieces.map(piece => Buffer.from(piece))), {
    headers,
  }) as unknown as IncomingMessage
}

describe('an inbox', () => {
  it('keeps uploads of one name apart, readable by this user only', async () => {
    const inbox = await openInbox()
    const one = await inbox.receive(sent(['a']), 'comet.psd')
    const two = await inbox.receive(sent(['b']), 'comet.psd')
    expect(one.path).not.toBe(two.path)
    expect(statSync(one.path).mode & 0o077).toBe(0)
    expect(statSync(dirname(dirname(one.path))).mode & 0o077).toBe(0)
    await inbox.close()
    expect(existsSync(one.path)).toBe(false)
  })

  it.each([
    ['announced', sent(['0123456789'], 10)],
    ['grown', sent(['01234', '56789'])],
  ])('refuses a body longer than its limit, %s, and leaves nothing', async (_, request) => {
    const inbox = await openInbox(9)
    const probe = await inbox.receive(sent(['x']), 'probe')
    const folder = dirname(dirname(probe.path))
    await expect(inbox.receive(request, 'comet.psd')).rejects.toMatchObject({
      name: 'BadInput',
      code: 'upload-too-long',
    })
    expect(readdirSync(folder)).toHaveLength(1)
    await inbox.close()
  })

  it('says that an upload broke off, and leaves nothing', async () => {
    const inbox = await openInbox()
    const pieces = (async function* () {
      yield Buffer.from('half')
      throw Object.assign(new Error('aborted'), { code: 'ECONNRESET' })
    })()
    const broken = Object.assign(Readable.from(pieces), { headers: {} }) as unknown as IncomingMessage
    await expect(inbox.receive(broken, 'comet.psd')).rejects.toMatchObject({ code: 'upload-failed' })
    await inbox.close()
  })
})

describe('an uploaded name', () => {
  it.each([
    ['star chart.psd', 'star chart.psd'],
    ['../../etc/passwd', 'passwd'],
    ['C:\\art\\comet.psb', 'comet.psb'],
    ['..', 'file'],
    ['', 'file'],
    ['.hidden', 'hidden'],
    ['a\u0000b\nc.psd', 'a_b_c.psd'],
    ['星図.psd', '星図.psd'],
    [`${'x'.repeat(300)}.psd`, `${'x'.repeat(56)}.psd`],
    ['x'.repeat(300), 'x'.repeat(60)],
  ])('%j is kept as %j', (given, kept) => {
    expect(safeName(given)).toBe(kept)
  })
})
