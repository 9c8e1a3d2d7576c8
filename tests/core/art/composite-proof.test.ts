import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { compositeDifference } from '../../../core/art/composite-difference.ts'
import { leftOut } from '../../../core/art/composite-findings.ts'
import { readArt } from '../../../core/art/read.ts'
import { BadInput } from '../../../core/base/finding.ts'
import { memorySource } from '../../../core/base/source.ts'

/** 40 dB is the floor that this project sets: an average error of 1 % of the range, not seen beside the original. */
const floor = 40

interface Row {
  readonly name: string
  readonly mode: string
  readonly depth: number
  /** The lower of colour and transparency; null where nothing can be compared. */
  readonly psnr: number | null
  readonly reason: string
}

const folder = 'tests/fixtures/art'

/**
 * Every real file's own flattened picture, written by the program that made the file, against ours from its layers.
 * The files are from public test collections; tests/fixtures/art lists repository, commit and licence of each.
 */
describe('our picture of the layers against the file’s own', () => {
  it(`reaches ${floor} dB wherever nothing of the file is left out`, async () => {
    const rows: Row[] = []
    for (const name of readdirSync(folder).filter(n => /\.ps[db]$/.test(n))) rows.push(await judge(name))
    console.log(table(rows))
    const compared = rows.filter(row => row.psnr !== null && row.reason === '')
    expect(compared.length).toBeGreaterThanOrEqual(20)
    expect(compared.filter(row => row.psnr! < floor)).toEqual([])
    expect(rows.filter(row => row.reason === '' && row.psnr === null)).toEqual([])
  })
})

async function judge(name: string): Promise<Row> {
  try {
    const file = await readArt(memorySource(name, readFileSync(`${folder}/${name}`)))
    const { colorMode: mode, depth } = file.art
    const difference = await compositeDifference(file)
    if ('reason' in difference) return { name, mode, depth, psnr: null, reason: difference.reason }
    const psnr = Math.min(difference.psnr, difference.alphaPsnr ?? difference.psnr)
    const codes = [...new Set(leftOut(file.art).map(f => f.code))]
    return { name, mode, depth, psnr, reason: codes.join(', ') }
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    return { name, mode: '-', depth: 0, psnr: null, reason: `cannot be used: ${error.code}` }
  }
}

function table(rows: readonly Row[]): string {
  const lines = rows.map(row =>
    [
      row.name.padEnd(56),
      row.mode.padEnd(12),
      String(row.depth || '-').padStart(3),
      (row.psnr === null
        ? '-'
        : row.psnr === Number.POSITIVE_INFINITY
          ? 'equal'
          : row.psnr.toFixed(1)
      ).padStart(7),
      ` ${row.reason}`,
    ].join(' '),
  )
  return [
    `${'file'.padEnd(56)} ${'mode'.padEnd(12)} bit    PSNR  left out, or why not compared`,
    ...lines,
  ].join('\n')
}
