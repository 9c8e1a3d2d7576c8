#!/usr/bin/env node
// The command line's launcher: builds it when missing or older than its sources, then runs it.
import { argv, exit } from 'node:process'
import { build, workParts } from './build.mjs'

try {
  for (const part of [...workParts, 'cli']) await build(part)
} catch (error) {
  console.error(`rakelight: the build failed: ${error instanceof Error ? error.message : String(error)}`)
  exit(1)
}
// The name is put together at run time because the file exists only after the build.
const { main } = await import(new URL('../dist/cli/cli.mjs', import.meta.url).href)
process.exitCode = await main(argv.slice(2))
