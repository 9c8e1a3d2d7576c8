import { argv } from 'node:process'
import { newPrint } from '../core/job/usual.ts'
import { readShipped } from './press.ts'
import { keepCondition } from './shipped-condition.ts'

/** A step of the build: the print condition that ships, read once for every thread of every run. */
const { profile, condition } = await readShipped(newPrint)
await keepCondition(argv[2]!, profile, condition)
