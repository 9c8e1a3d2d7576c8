import { describe, expect, test } from 'vitest'
import { type SignOffInput, signOffPdf } from '../../../core/export/signoff-pdf.ts'
import type { Job } from '../../../core/job/job.ts'
import {
  type EntryContent,
  newRecord,
  type SignoffRecord,
  signoffStatement,
  withEntry,
} from '../../../core/proof/signoff.ts'
import { standing } from '../../../core/proof/standing.ts'
import { versionOf } from '../../../core/proof/version.ts'
import { plainJob } from '../../support/job.ts'
import { pageTexts } from '../../support/pdf-text.ts'
import { hasTool } from '../../support/tools.ts'

const poppler = hasTool('pdftotext', '-v')
const at = '2026-03-06T10:00:00Z'
const versionFor = (job: Job) =>
  versionOf({
    jobName: 'comet.job.json',
    madeAt: at,
    program: '0.1.0',
    data: 'abc',
    sources: [{ kind: 'art', name: 'front.psd', sha256: 'a1'.repeat(32), bytes: 1234 }],
    job,
  })
const signed = versionFor(plainJob)
const file = { name: 'comet.signoff.json', sha256: 'f0'.repeat(32), bytes: 4321 }

const asked: EntryContent = {
  kind: 'people',
  at,
  by: 'Ines Halden',
  people: [
    { name: 'Ines Halden', role: 'Obligated' },
    { name: 'Jan Tønder', role: 'Approvinator' },
    { name: 'Lab', role: 'Informative' },
  ],
}
const decided: EntryContent = {
  kind: 'decision',
  at: '2026-03-07T11:12:00Z',
  by: 'Ines Halden',
  role: 'Obligated',
  decision: 'ApprovedWithComment',
  conditions: ['subject to the sample of the lab', 'code to be verified'],
  reason: 'the tail glares',
  viewing: { condition: 'P1', lux: 1980, light: 'LED panels', room: 'agency' },
  display: { kind: '27 inch', white: 'D65', luminance: 160, profile: 'Own', calibratedOn: '2026-03-01' },
  notes: { open: 2, settled: 1, sha256: 'b2'.repeat(32) },
}
const recordOf = (...entries: readonly EntryContent[]): SignoffRecord =>
  entries.reduce(
    (record: SignoffRecord, entry) => withEntry(record, entry),
    newRecord(signed, { name: 'comet.proof.html', sha256: 'c3'.repeat(32), bytes: 99 }),
  )
const input = (change: Partial<SignOffInput> = {}): SignOffInput => ({
  record: recordOf(asked, decided),
  file,
  broken: [],
  standing: { kind: 'stands' },
  program: '0.1.0',
  madeAt: '2026-03-08T08:00:00Z',
  pictures: [
    {
      picture: { width: 4, height: 5, rgb: new Uint8Array(60) },
      title: 'Worst glare',
      says: 'held straight on',
    },
  ],
  ...change,
})
const wordsOf = async (one: SignOffInput) => pageTexts(await signOffPdf(one)).join(' ')

describe('a printed sign-off', () => {
  test('the same record, printed at the same time, is the same bytes', async () => {
    expect(await signOffPdf(input())).toEqual(await signOffPdf(input()))
  })

  test.skipIf(!poppler)(
    'says who decided what, how it was seen, with every hash and what it is worth',
    async () => {
      const { record } = input()
      const all = await wordsOf(input())
      const parts = [
        'OK with corrections: all who must approve have decided. Jan Tønder may still say otherwise',
        'What was signed is what there is now.',
        'XJDF ApprovedWithComment',
        'subject to the sample of the lab',
        'the tail glares',
        '1980 lx measured',
        '160 cd/m²',
        'calibrated 2026-03-01',
        'notes: 2 open, 1 settled',
        'has not decided',
        'Worst glare',
        signed.id,
        signed.jobSha256,
        'c3'.repeat(32),
        file.sha256,
        record.seal,
        ...record.entries.map(entry => entry.sha256),
        'Signature',
        'a1'.repeat(32),
      ]
      for (const part of parts) expect(all).toContain(part)
      for (const sentence of signoffStatement.split('. ')) expect(all).toContain(sentence.slice(0, 40))
    },
  )

  test.skipIf(!poppler)('a later edit takes it back on the first page, and says what it costs', async () => {
    const [hand] = plainJob.light.lamps
    const moved = {
      ...plainJob,
      light: { ...plainJob.light, lamps: [{ ...hand, lux: hand.lux + 1 }] as const },
    }
    const light = await wordsOf(input({ standing: standing(signed, versionFor(moved)) }))
    expect(light).toContain('Superseded')
    expect(light).toContain('Together: nothing.')
    const larger = { ...plainJob, panel: { ...plainJob.panel, widthMm: plainJob.panel.widthMm + 1 } }
    const [first] = pageTexts(
      await signOffPdf(input({ standing: standing(signed, versionFor(larger)), pictures: [] })),
    )
    expect(first).toContain('After release the change costs: new master and new plates.')
  })

  test.skipIf(!poppler)('a record that was changed says so before anything else', async () => {
    const broken = [
      { where: 'entry 2', message: 'is not what its hash says' },
    ] as unknown as SignOffInput['broken']
    const all = await wordsOf(input({ broken, standing: null }))
    expect(all).toContain('Not to be trusted')
    expect(all).toContain('entry 2 is not what its hash says')
    expect(all).not.toContain('What was signed is what there is now.')
  })

  test.skipIf(!poppler)('an open round says for whom it waits; one without people says that', async () => {
    expect(await wordsOf(input({ record: recordOf(asked) }))).toContain('Open: waits for Ines Halden.')
    expect(await wordsOf(input({ record: recordOf() }))).toContain('nobody who must approve was asked')
    const last: EntryContent = { ...decided, by: 'Jan Tønder', role: 'Approvinator', decision: 'Rejected' }
    expect(await wordsOf(input({ record: recordOf(asked, decided, last) }))).toContain(
      'New proof needed: said by Jan Tønder, who has the final say.',
    )
  })

  test.skipIf(!poppler)('very long words of signers stay on the page', async () => {
    const long: EntryContent = { ...decided, reason: 'y'.repeat(4000), conditions: ['z'.repeat(2000)] }
    const all = (await wordsOf(input({ record: recordOf(asked, long) }))).replaceAll(' ', '')
    expect(all.match(/y/g)!.length).toBeGreaterThanOrEqual(4000)
  })
})
