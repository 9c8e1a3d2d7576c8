import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { encodeWire } from '../../core/host/wire.ts'
import { setEffect } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { applyChange } from '../../core/material/change.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { createHost } from '../../electron/host.ts'
import { blankEffects, blankSize, cartonBlank } from '../support/carton-blank.ts'
import type { BenchResult, BenchRow } from './bench.ts'

const runs = 4

/**
 * An edit of one effect on a whole carton blank: from the job that changed to the levels of the map that a card is fed
 * from, beside the same map built whole. The host as the app has it; the page's part is what it does before the card.
 */
export async function run(): Promise<BenchResult> {
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-edit-'))
  const path = join(folder, 'blank.psd')
  writeFileSync(path, cartonBlank())
  const host = createHost({
    kind: 'desktop',
    version: 'bench',
    dialogs: null,
    dataFolder: folder,
    startPath: path,
  })
  try {
    const { handlers } = host
    const { start } = await handlers.about({})
    if (start === null) throw new Error('no art')
    const art = await handlers.importArt({
      reading: {},
      besideIds: [],
      password: null,
      fileId: start.id,
      taskId: 'read',
    })
    const job = withEffects(art.job, art.art.layers)
    const target = (name: string) => ({
      kind: 'layer' as const,
      id: art.art.layers.find(one => one.name === name)!.id,
    })
    let id: string | null = null
    let levels: readonly MaterialMap[] = []
    let n = 0
    /** Milliseconds in the host, on the wire, and in the page; megabytes on the wire. */
    const once = async (next: Job, soon: boolean) => {
      const t0 = performance.now()
      const built = await handlers.buildMap({
        fileId: start.id,
        taskId: `map${n++}`,
        job: { ...next },
        from: id,
        soon,
      })
      const t1 = performance.now()
      const { length } = encodeWire(built)
      const t2 = performance.now()
      if (built.shown.kind === 'whole') levels = built.shown.levels
      if (built.shown.kind === 'change') levels = applyChange(levels, built.shown.change)
      if (built.shown.kind !== 'look') id = built.id
      return {
        kind: built.shown.kind,
        host: t1 - t0,
        wire: t2 - t1,
        page: performance.now() - t2,
        mb: length / 1e6,
      }
    }
    /** What the page asks for an edit: what comes first, and the map, which may be the same. */
    const ask = async (next: Job) => {
      const first = await once(next, id !== null)
      const last = first.kind === 'look' ? await once(next, false) : first
      return {
        ...last,
        first: allOf(first),
        ready: first === last ? allOf(first) : allOf(first) + allOf(last),
      }
    }
    const whole = await ask(job)
    const rows: BenchRow[] = [
      { name: 'whole map', value: whole.host, unit: 'ms', aim: null },
      { name: 'whole map on the wire', value: whole.mb, unit: 'MB', aim: null },
    ]
    const edits: readonly (readonly [string, (i: number) => Job])[] = [
      ['rings, pitch', i => setEffect(target('Holo lens rings'), rings({ pitchNm: 1060 + i }))(job)],
      [
        'rings, groove depth',
        i => setEffect(target('Holo lens rings'), rings({ grooveDepthNm: 82 + i }))(job),
      ],
      [
        'star rays, pitch',
        i =>
          setEffect(target('Holo star rays'), {
            kind: 'radial',
            parameters: { pitchNm: 901 + i, grooveDepthNm: 80 },
          })(job),
      ],
      [
        'white, hits',
        i => ({
          ...job,
          whites: [
            {
              target: { kind: 'channel', id: art.art.channels[0]!.id },
              opacity: { from: 'contrast', value: 0.6 },
              hits: 1 + (i % 2),
              mottle: 0,
              screen: 'dots',
              toneGain: 0,
            },
          ],
        }),
      ],
    ]
    for (const [name, edited] of edits) {
      const times: Awaited<ReturnType<typeof ask>>[] = []
      for (let i = 0; i < runs; i++) times.push(await ask(edited(i)))
      if (times.some(one => one.kind !== 'change')) throw new Error(`${name}: the whole map came`)
      const best = (of: (one: (typeof times)[number]) => number) => Math.min(...times.slice(1).map(of))
      rows.push(
        { name: `${name}: host`, value: best(one => one.host), unit: 'ms', aim: null },
        { name: `${name}: wire`, value: best(one => one.wire), unit: 'ms', aim: null },
        { name: `${name}: page, before the card`, value: best(one => one.page), unit: 'ms', aim: null },
        { name: `${name}: to the first update`, value: best(one => one.first), unit: 'ms', aim: 150 },
        { name: `${name}: to all of it`, value: best(one => one.ready), unit: 'ms', aim: null },
        { name: `${name}: on the wire`, value: best(one => one.mb), unit: 'MB', aim: null },
        {
          name: `${name}: of a whole build`,
          value: best(one => one.ready) / whole.host,
          unit: 'x',
          aim: null,
        },
      )
    }
    return { title: `An edit on ${blankSize.width} × ${blankSize.height} pixels`, rows }
  } finally {
    await host.close()
    rmSync(folder, { recursive: true, force: true })
  }
}

const allOf = ({ host, wire, page }: { host: number; wire: number; page: number }): number =>
  host + wire + page

const rings = (parameters: Readonly<Record<string, number>>) => {
  const effect = blankEffects['Holo lens rings']!
  return { ...effect, parameters: { ...effect.parameters, ...parameters } }
}

/** Every layer of holography with its own effect. */
function withEffects(job: Job, layers: readonly { readonly id: string; readonly name: string }[]): Job {
  const holographic = layers.filter(({ name }) => blankEffects[name] !== undefined)
  return {
    ...job,
    panel: { ...job.panel, widthMm: blankSize.widthMm, heightMm: blankSize.heightMm },
    roles: holographic.map(({ id }) => ({
      target: { kind: 'layer', id },
      role: 'holography',
      amount: { from: 'alpha' },
    })),
    effects: holographic.map(({ id, name }) => ({
      target: { kind: 'layer', id },
      effect: blankEffects[name]!,
    })),
  }
}
