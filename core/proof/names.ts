/** What stands beside a job on the disk. */
const endings = {
  proof: '.proof.html',
  versions: '.versions.json',
  notes: '.notes.json',
  signoff: '.signoff.json',
  printed: '.signoff.pdf',
} as const

/** The name of what belongs to a job: `comet.job.json` has `comet.notes.json`. */
export function besideJob(jobName: string, what: keyof typeof endings): string {
  return `${jobName.replace(/(\.job)?\.json$/i, '')}${endings[what]}`
}

/** Stands on everything that goes out. */
export const proofLabel = 'Virtual appearance proof (not a contract proof)'
