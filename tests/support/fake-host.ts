import type { Art, Layer } from '../../core/art/layer.ts'
import { Cancelled } from '../../core/base/task.ts'
import { listed } from '../../core/checks/run.ts'
import type { Handlers, Host } from '../../core/host/contract.ts'
import { dispatch } from '../../core/host/dispatch.ts'
import type { SignoffState } from '../../core/host/signing.ts'
import type { Job } from '../../core/job/job.ts'
import { newJob } from '../../core/job/new.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { pyramid } from '../../core/material/mip.ts'
import { contrastOf } from '../../core/optics/opacity.ts'
import { addedCount, mergeNotes } from '../../core/proof/merge-notes.ts'
import { besideJob } from '../../core/proof/names.ts'
import { emptyNotes } from '../../core/proof/notes.ts'
import { checkNoteList } from '../../core/proof/read-notes.ts'
import { checkNext, entriesFor, roundOf } from '../../core/proof/round.ts'
import { newRecord, type SignoffRecord, withEntry } from '../../core/proof/signoff.ts'
import { versionOf } from '../../core/proof/version.ts'
import { assignRoles } from '../../core/roles/assign.ts'
import { HostError } from '../../renderer/host/reply.ts'
import { checkFinding } from './check-finding.ts'
import { paintMap } from './paint-map.ts'

/** A host in memory for tests of the window's state: one piece of art, jobs kept by name, work that takes `slowMs`. */
export interface FakeHost extends Host {
  readonly asked: string[]
  readonly saved: Map<string, Job>
}

export interface FakePlan {
  readonly files?: 'dialog' | 'upload'
  readonly slowMs?: number
  readonly art?: Art
  readonly sha256?: string
  /** Unsaved work that is there at the start, by id; changes are seen in it. */
  readonly drafts?: Map<string, Job>
  /** Handlers of the test's own, over the usual ones. */
  readonly over?: Partial<Handlers>
}

export function fakeHost(plan: FakePlan = {}): FakeHost {
  const art = plan.art ?? chartArt
  const sha256 = plan.sha256 ?? 'a1'.repeat(32)
  const asked: string[] = []
  const saved = new Map<string, Job>()
  const drafts = plan.drafts ?? new Map<string, Job>()
  const cancelled = new Set<string>()
  const progress = new Map<string, number>()
  const work = async <T>(taskId: string, result: () => T): Promise<T> => {
    const steps = 10
    for (let i = 0; i <= steps; i++) {
      if (cancelled.has(taskId)) throw new Cancelled()
      progress.set(taskId, i / steps)
      await new Promise(done => setTimeout(done, (plan.slowMs ?? 0) / steps))
    }
    progress.delete(taskId)
    return result()
  }
  let notes = emptyNotes('front.job.json', null)
  let signoff: SignoffState | null = null
  const rolesOf = (job: Pick<Job, 'aliases' | 'roles'>) =>
    assignRoles(art, { aliases: job.aliases, choices: job.roles })
  const handlers: Handlers = {
    about: async () => ({ version: '0.1.0', shell: 'browser', files: plan.files ?? 'dialog', start: null }),
    recent: async () => [
      { id: 'art', name: art.name, kind: 'art', folder: 'Art', beside: [], openedAt: null },
    ],
    chooseFile: async () => ({ id: 'art', name: art.name, kind: 'art' }),
    chooseArt: async () => [{ id: 'art', name: art.name, kind: 'art' }],
    artPages: async () => ({ count: 1, pages: [] }),
    openJob: async ({ fileId }) => ({
      file: { id: fileId, name: 'front.job.json', kind: 'job' },
      name: 'front.job.json',
      job: saved.get(fileId) ?? newJob(art, sha256, art.name, rolesOf({ aliases: [], roles: [] })),
      art: { state: 'found', file: { id: 'art', name: art.name, kind: 'art' } },
    }),
    importArt: ({ fileId, taskId }) =>
      work(taskId, () => {
        const assigned = rolesOf({ aliases: [], roles: [] })
        return {
          fileId,
          art,
          sha256,
          assigned,
          findings: art.findings,
          state: 'as it was',
          job: newJob(art, sha256, art.name, assigned),
        }
      }),
    assignRoles: async ({ job }) => ({ assigned: rolesOf(job as unknown as Job) }),
    preview: async ({ size, target }) => grey(size, target.id.length * 37),
    buildMap: ({ taskId, job }) =>
      work(taskId, () => ({
        id: JSON.stringify(job).length.toString(),
        shown: { kind: 'whole', levels: pyramid(chartMap(job as unknown as Job)) },
        assigned: rolesOf(job as unknown as Job),
        findings: [],
      })),
    runChecks: ({ taskId, job }) =>
      work(taskId, () => listed([checkFinding()], (job as unknown as Job).waivers)),
    slipPicture: ({ taskId }) => work(taskId, () => ({ groups: ['white', 'colour'] as const, pairs: [] })),
    accountPicture: ({ taskId }) =>
      work(taskId, () => ({ panels: [], wasteCm2: 0, holographyCm2: 0, seenCm2: 0 })),
    flashPicture: ({ taskId }) =>
      work(taskId, () => ({
        panels: [],
        lamps: [],
        eyes: [],
        seen: new Float32Array(0),
        luminance: new Float32Array(0),
        most: new Float32Array(0),
      })),
    heatPicture: ({ taskId }) =>
      work(taskId, () => ({
        columns: 1,
        rows: 1,
        mean: Float32Array.of(0.5),
        least: Float32Array.of(0.1),
        most: Float32Array.of(3),
      })),
    typePicture: ({ taskId }) => work(taskId, () => ({ lamps: [], views: [], objects: [], leftOut: 0 })),
    whitePicture: ({ taskId }) =>
      work(taskId, () => ({
        width: 1,
        height: 1,
        drawn: Uint8Array.of(0),
        made: Uint8Array.of(255),
        areaMm2: 1,
        did: [],
      })),
    framePicture: ({ taskId, width, height }) =>
      work(taskId, () => ({ width, height, rgba: new Uint8Array(4 * width * height) })),
    makeProofSheet: ({ taskId }) =>
      work(taskId, () => ({
        id: 'c3'.repeat(32),
        name: 'front.proof.pdf',
        bytes: Uint8Array.of(37, 80, 68, 70),
        title: 'Proof sheet of front.job.json',
      })),
    makeSignOffPdf: ({ taskId }) =>
      work(taskId, () => ({
        name: 'front.signoff.pdf',
        bytes: Uint8Array.of(37, 80, 68, 70),
        title: 'Sign-off of front.job.json',
      })),
    makeStills: ({ taskId, wish }) =>
      work(taskId, () =>
        wish.what.map(kind => ({
          name: `front-${kind}.${wish.format.kind}`,
          bytes: Uint8Array.of(1),
          title: kind,
        })),
      ),
    addProfile: async () => ({
      file: { path: 'press.icc', sha256: 'b'.repeat(64) },
      name: 'Press on coated board',
    }),
    saveJob: async ({ fileId, job }) => {
      const id = fileId ?? 'saved'
      saved.set(id, job as unknown as Job)
      return { file: { id, name: 'front.job.json', kind: 'job' }, job: job as unknown as Job }
    },
    makePlates: ({ taskId, jobName }) =>
      work(taskId, () => ({
        id: 'ab'.repeat(32),
        files: [{ name: `${jobName}.plates.pdf`, bytes: new Uint8Array(8), plate: null }],
        plates: [],
        empty: [],
        sheet: {
          trim: [40, 30],
          bleed: [0, 0, 0, 0],
          media: [40, 30],
          art: { widthMm: 40, heightMm: 30, width: 400, height: 300 },
        },
        findings: [],
      })),
    saveFile: async ({ name }) => ({ name, folder: 'Proofs' }),
    chooseAsset: async ({ kind }) => [{ id: kind, name: `${kind}.glb`, kind: 'art' }],
    addAsset: ({ kind, fileIds, taskId }) =>
      work(taskId, () => ({
        files: fileIds.map(id => ({ path: `${kind}/${id}`, sha256: 'b2'.repeat(32) })),
        findings: [],
      })),
    assetPictures: async ({ size }) => ({ pictures: [grey(size, 10), grey(size, 200)], findings: [] }),
    demo: async () => ({
      file: null,
      name: 'demo.job.json',
      job: newJob(art, sha256, art.name, rolesOf({ aliases: [], roles: [] })),
      art: { state: 'found', file: { id: 'art', name: art.name, kind: 'art' } },
    }),
    artState: async () => 'as it was',
    keepDraft: async ({ draftId, job }) => {
      drafts.set(draftId, job as unknown as Job)
      return null
    },
    drafts: async () => [...drafts.keys()].map(id => ({ id, name: art.name, savedAt: 0 })),
    openDraft: async ({ draftId }) => ({
      file: null,
      name: art.name,
      job: drafts.get(draftId) ?? newJob(art, sha256, art.name, []),
      art: { state: 'found', file: { id: 'art', name: art.name, kind: 'art' } },
    }),
    dropDraft: async ({ draftId }) => {
      drafts.delete(draftId)
      return null
    },
    comparePicture: ({ taskId, width, height }) =>
      work(taskId, () => {
        const picture = () => ({ width, height, rgba: new Uint8Array(4 * width * height) })
        const numbers = {
          compared: 1,
          above1: 0,
          above2: 0,
          above5: 0,
          mean: 0,
          max: 0,
          beyondWhite: 0,
          apart: 0,
        }
        return { a: picture(), b: picture(), difference: picture(), numbers, changes: [] }
      }),
    versions: async () => [],
    notes: async () => notes,
    addNotes: async ({ notes: more }) => {
      const before = notes.notes
      notes = { ...notes, notes: mergeNotes(before, checkNoteList(more, 'notes'), 'notes') }
      return { file: notes, added: addedCount(before, notes.notes) }
    },
    mergeNotes: async () => ({ file: notes, added: 0, mark: { kind: 'newest' } }),
    signoff: async () => signoff,
    makeProof: ({ taskId, jobName, budget, checked }) =>
      work(taskId, () => ({
        name: besideJob(jobName, 'proof'),
        bytes: new TextEncoder().encode('<!doctype html>'),
        id: 'e7'.repeat(32),
        madeAt: '2026-03-04T09:30:00Z',
        detail: {
          halvings: 0,
          pixelsPerInch: 300,
          wholePixelsPerInch: 300,
          budget,
          says: 'As fine as the job: 1200 × 600 places, 300 an inch.',
        },
        counts: checked ? { error: 0, warning: 1, note: 2 } : null,
      })),
    proofOut: async () => null,
    addSignoff: async ({ job, wish }) => {
      const at = '2026-03-04T09:30:00Z'
      const of = { jobName: 'front.job.json', madeAt: at, program: '0.1.0', data: '0', sources: [] }
      const begun = signoff?.record ?? newRecord(versionOf({ ...of, job: job as unknown as Job }), null)
      const record = entriesFor(begun, wish, at, null).reduce<SignoffRecord>((before, entry) => {
        checkNext(before, entry, 'front.signoff.json')
        return withEntry(before, entry)
      }, begun)
      signoff = {
        name: 'front.signoff.json',
        record,
        round: roundOf(record),
        broken: [],
        standing: { kind: 'stands' },
      }
      return signoff
    },
    progress: async ({ taskId }) => {
      const done = progress.get(taskId)
      return done === undefined ? null : { done, what: 'layer 3 of 9' }
    },
    cancel: async ({ taskId }) => {
      cancelled.add(taskId)
      return null
    },
    ...plan.over,
  }
  const host = async (name: string, input: unknown) => {
    asked.push(name)
    const reply = await dispatch(handlers, name, input)
    if (!reply.ok) throw new HostError(reply.code, reply.message)
    return reply.value
  }
  return Object.assign(host, {
    asked,
    saved,
    adopt: async (file: unknown) => {
      const { name } = file as { name: string }
      return name.endsWith('.json')
        ? ({ id: 'job', name, kind: 'job' } as const)
        : ({ id: 'art', name, kind: 'art' } as const)
    },
  }) as FakeHost
}

const layer = (id: string, name: string, parent: string | null, kind: Layer['kind'] = 'pixel'): Layer => ({
  id,
  name,
  kind,
  parent,
  visible: true,
  opacity: 1,
  fillOpacity: 1,
  blendMode: kind === 'group' ? 'passThrough' : 'normal',
  clipped: false,
  box: { left: 0, top: 0, right: 744, bottom: 1063 },
  channelIds: [0, 1, 2, 3, -1],
  mask: null,
  vectorMask: null,
  text: null,
  fill: null,
  effects: [],
  adjustment: null,
  findings: [],
})

/** A star chart on foil, as the roles see it. */
export const chartArt: Art = {
  name: 'halden-eyepiece-front.psd',
  format: 'PSD',
  width: 744,
  height: 1063,
  resolutionPpi: 300,
  colorMode: 'CMYK',
  depth: 8,
  layers: [
    layer('3', 'Lens rings', '2'),
    layer('4', 'Comet tail rainbow', '2'),
    layer('2', 'Holography', null, 'group'),
    layer('5', 'White under text', null),
    layer('7', 'Star chart', '6'),
    layer('8', 'Comet', '6'),
    layer('9', 'Product name', '6', 'text'),
    layer('6', 'Overprint', null, 'group'),
    layer('10', 'Dieline', null, 'shape'),
    layer('11', 'Legend', null, 'text'),
  ],
  channels: [
    {
      id: 'c0',
      name: 'White',
      kind: 'spot',
      ink: { space: 'CMYK', values: [0, 0, 0, 0] },
      opacity: 1,
      plane: 4,
    },
  ],
  paths: [],
  profile: null,
  palette: null,
  hasComposite: true,
  findings: [
    {
      severity: 'warning',
      code: 'adjustment-not-reproduced',
      where: 'Overprint / Star chart',
      message:
        'A curves adjustment changes this layer in the program that made it, and is not reproduced here.',
      fix: 'Apply the adjustment to the pixels and save again.',
    },
  ],
}

/** Rings of holography with a white disc and a blue night over them. */
export function chartMap(job: Job): MaterialMap {
  const white = job.whites[0]
  return {
    ...paintMap(
      {
        size: 256,
        sideMm: 63,
        gratings: 1,
        whites: [{ opacity: white === undefined ? 0.5 : contrastOf(white.opacity), hits: white?.hits ?? 1 }],
        spots: [],
        varnish: false,
      },
      (x, y) => {
        const r = Math.hypot(x, y)
        return {
          metal: 1,
          cmyk: [y < -0.5 ? 1 : 0, y < -0.5 ? 0.7 : 0, 0, y < -0.5 ? 0.3 : 0],
          whites: [r < 0.25 ? 1 : 0],
          gratings: [
            {
              pitch: 1000 + 300 * Math.sin(8 * r),
              azimuth: Math.atan2(y, x),
              grooveDepth: 60,
              groove: { shape: 'sinusoid' },
              share: r < 0.9 ? 1 : 0,
              spreadAlong: 0,
              spreadAcross: 0,
            },
          ],
        }
      },
    ),
    widthMm: job.panel.widthMm,
    heightMm: job.panel.heightMm,
  }
}

function grey(size: number, value: number) {
  const rgba = new Uint8Array(size * size * 4)
  for (let i = 0; i < size * size; i++) rgba.set([value % 256, value % 256, value % 256, 255], 4 * i)
  return { width: size, height: size, rgba }
}
