import { describe, expect, it } from 'vitest'
import type { ImportedArt } from '../../core/host/art.ts'
import type { ArtReading } from '../../core/job/job.ts'
import { newJob } from '../../core/job/new.ts'
import { isLocked, settled, unlocked } from '../../renderer/state/art-questions.ts'
import type { ArtQuestion } from '../../renderer/state/state.ts'
import { chartArt } from '../support/fake-host.ts'

const file = { id: 'art', name: 'front.pdf', kind: 'art' } as const

class Told extends Error {
  constructor(readonly code: string) {
    super(code)
  }
}

/** Art of a page, as it was read. */
function imported(
  page: Partial<NonNullable<ImportedArt['art']['page']>>,
  reading: ArtReading = {},
): ImportedArt {
  const whole = {
    number: 1,
    count: 1,
    trim: null,
    bleed: null,
    fonts: [],
    inexact: [],
    readAs: 'inks',
  } as const
  const art = { ...chartArt, page: { ...whole, ...page } }
  return {
    fileId: 'art',
    art,
    sha256: 'ab'.repeat(32),
    assigned: [],
    findings: [],
    state: null,
    job: newJob(art, 'ab'.repeat(32), 'front.pdf', [], reading),
  }
}

/** Answers questions one after another, and notes them. */
function answering(...answers: readonly (string | number | null)[]) {
  const asked: (ArtQuestion | null)[] = []
  const left = [...answers]
  return {
    asked,
    ask: (question: ArtQuestion | null) => {
      asked.push(question)
      const answer = question?.answer as ((value: unknown) => void) | undefined
      answer?.(left.shift() ?? null)
    },
  }
}

describe('locked art', () => {
  it('asks until a password opens it, says which one was wrong, and takes the question away', async () => {
    const { ask, asked } = answering('star', 'comet')
    const given: string[] = []
    const opened = await unlocked(ask, file, new Told('password-needed'), async password => {
      given.push(password)
      if (password !== 'comet') throw new Told('password-wrong')
      return imported({})
    })
    expect(opened?.fileId).toBe('art')
    expect(given).toEqual(['star', 'comet'])
    expect(asked.map(one => one && [one.kind, one.kind === 'password' && one.wrong])).toEqual([
      ['password', false],
      null,
      ['password', true],
      null,
    ])
  })

  it('is left when the user leaves it; other faults are not asked about', async () => {
    const { ask } = answering(null)
    const never = async () => imported({})
    expect(await unlocked(ask, file, new Told('password-needed'), never)).toBeNull()
    expect(isLocked(new Told('pdf-cut'))).toBe(false)
    const broken = unlocked(answering('x').ask, file, new Told('password-needed'), async () => {
      throw new Told('pdf-damaged')
    })
    await expect(broken).rejects.toThrow('pdf-damaged')
  })
})

describe('pages', () => {
  it('one page whose inks are exact asks nothing', async () => {
    const { ask, asked } = answering()
    expect(await settled(ask, file, imported({}), async () => null)).toMatchObject({ fileId: 'art' })
    expect(asked).toEqual([])
  })

  it('the chosen page is read, and kept in the job', async () => {
    const { ask } = answering(2)
    const reads: ArtReading[] = []
    const art = await settled(ask, file, imported({ count: 3 }), async how => {
      reads.push(how)
      return imported({ number: 2, count: 3 }, how)
    })
    expect(reads).toEqual([{ page: 2 }])
    expect(art?.job.art?.page).toBe(2)
  })

  it('a page beyond exact planes may be read by its layers', async () => {
    const object = { severity: 'warning', code: 'x', where: 'shading 1', message: 'm', fix: 'f' } as const
    const { ask, asked } = answering(1, 'layers')
    const reads: ArtReading[] = []
    await settled(ask, file, imported({ count: 2, inexact: [object] }), async how => {
      reads.push(how)
      return imported({ count: 2, inexact: [object] }, how)
    })
    expect(reads).toEqual([{ page: 1 }, { page: 1, readAs: 'layers' }])
    expect(asked[2]).toMatchObject({ kind: 'inexact', objects: [object] })
    const stay = answering('inks')
    const exact = imported({ inexact: [object] })
    expect(await settled(stay.ask, file, exact, async () => null)).toBe(exact)
  })
})
