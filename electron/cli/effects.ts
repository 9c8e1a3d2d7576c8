import { basename } from 'node:path'
import { type CatalogueEntry, type CatalogueParameter, catalogue } from '../../core/effects/catalogue.ts'
import { pitchRange } from '../../core/effects/parameters.ts'
import { areaPicture } from '../../core/export/area-picture.ts'
import { buildFromJob } from '../open-job.ts'
import { writeFileSafely } from '../write-file.ts'
import { UsageError } from './args.ts'
import { jobAtWork, jobFlags } from './at-work.ts'
import { type Command, jsonFlag } from './command.ts'
import { progressTask } from './progress.ts'
import { counted, table } from './table.ts'

export const effects: Command = {
  usage: {
    name: 'effects',
    says: 'kinds of holography with their parameters and limits, or a flat picture of a job’s areas',
    operands: ['[KIND]'],
    flags: {
      map: { value: 'JOB', says: 'draw the areas of this job, one colour each, with a legend' },
      out: { value: 'FILE', says: 'where to write that picture, SVG' },
      ...jsonFlag,
      ...jobFlags,
    },
  },
  async run(args, output) {
    const jobPath = args.value('map')
    const target = args.value('out')
    if ((jobPath === undefined) !== (target === undefined))
      throw new UsageError('effects: --map JOB and --out FILE go together')
    if (jobPath !== undefined && target !== undefined) {
      const name = basename(jobPath)
      const task = progressTask(output, `Building the map of ${name}`)
      const opened = await jobAtWork(args, jobPath, output, task)
      const { map } = await buildFromJob(opened, task)
      output.progress(null)
      await writeFileSafely(target, areaPicture(map, name))
      output.say(`Wrote ${target} with ${counted(map.areas.length, 'area')}.`)
      return
    }
    const wanted = args.operands[0]
    const list = catalogue().filter(one => wanted === undefined || one.kind === wanted)
    if (list.length === 0)
      throw new UsageError(
        `effects: there is no kind "${wanted}"; there are ${catalogue()
          .map(one => one.kind)
          .join(', ')}`,
      )
    if (args.has('json')) return output.print(JSON.stringify({ kinds: list }, null, 2))
    output.print(wanted === undefined ? overviewOf(list) : list.map(detailOf).join('\n\n'))
  },
}

function overviewOf(list: readonly CatalogueEntry[]): string {
  const rows = list.map(({ kind, title, limits }) => [
    kind,
    title,
    `from ${limits.smallestMm} mm`,
    `${limits.pitchNm[0]}–${limits.pitchNm[1]} nm`,
  ])
  return `${table(
    [['kind', 'what it is', 'details', 'pitch'], ...rows],
    ['left', 'left', 'right', 'right'],
  )}\n\nrakelight effects KIND says what one does and lists its parameters.`
}

function detailOf({ kind, title, says, limits, parameters }: CatalogueEntry): string {
  const scattered =
    limits.pitchNm[1] > pitchRange[1] ? `, above ${pitchRange[1]} only where it scatters by 25 % or more` : ''
  const bounds = `Details from ${limits.smallestMm} mm, pitch ${limits.pitchNm[0]}–${limits.pitchNm[1]} nm${scattered}. ${limits.says}`
  return `${kind}: ${title}\n  ${says}\n  ${bounds}\n\n${table(parameters.map(rowOf), ['left', 'left', 'left', 'left'], 2)}`
}

function rowOf(parameter: CatalogueParameter): readonly string[] {
  if ('options' in parameter)
    return [
      parameter.key,
      parameter.options.map(one => one.value).join(' | '),
      parameter.default,
      parameter.label,
    ]
  if ('takes' in parameter)
    return [parameter.key, parameter.takes, JSON.stringify(parameter.default), parameter.label]
  const unit = units[parameter.unit]
  return [
    parameter.key,
    `${parameter.min}..${parameter.max}${unit}`,
    `${parameter.default}${unit}`,
    parameter.label,
  ]
}

const units = { nm: ' nm', deg: '°', percent: ' %', mm: ' mm', '': '' } as const
