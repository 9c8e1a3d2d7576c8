import { readFileSync } from 'node:fs'
import { readArt } from '../../core/art/read.ts'
import { registerReport, usualDraws } from '../../core/checks/register/report.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { assignRoles } from '../../core/roles/assign.ts'
import type { BenchResult } from './bench.ts'

/** Seconds for a thousand draws of all pairs of the demo carton. */
const aim = 5

/** Slips of the demo's groups, from its edges to the report, on one processor. */
export async function run(): Promise<BenchResult> {
  const bytes = new Uint8Array(readFileSync('demo-assets/demo.psd'))
  const job = JSON.parse(readFileSync('demo-assets/demo.job.json', 'utf8'))
  const file = await readArt({
    name: 'demo.psd',
    size: bytes.length,
    read: async (offset, count) => bytes.subarray(offset, offset + count),
  })
  const { widthMm, heightMm } = job.panel as { readonly widthMm: number; readonly heightMm: number }
  // All holography of the demo is of its layers, so nothing is read from a map's planes.
  const map = { widthMm, heightMm, areas: [], whites: [] } as unknown as MaterialMap
  const assigned = assignRoles(file.art, { aliases: [], choices: job.roles })
  const input = { art: file.art, file, assigned, map, blank: null, corners: new Map(), limits: {} }
  const seconds = async (draws: number) => {
    const before = process.cpuUsage().user
    await registerReport(input, { ...usualDraws, draws })
    return (process.cpuUsage().user - before) / 1e6
  }
  await seconds(1)
  const edges = await seconds(1)
  const all = await seconds(usualDraws.draws)
  return {
    title: `misregister of the demo, ${usualDraws.draws} draws`,
    rows: [
      { name: 'edges alone, processor time', value: edges, unit: 's', aim: null },
      { name: 'edges and draws, processor time', value: all, unit: 's', aim },
    ],
  }
}
