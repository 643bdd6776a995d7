// Times the reference engine. Reads from standard input JSON: a network in the
// engine's text form, the id of a valve in it and two settings of it. Writes JSON,
// all in nanoseconds: read (the text becomes a network), open (the order of
// elimination), solve (from scratch), again (after the valve changed, from the
// solution before); and the iterations of the last two.
import fs from "node:fs";
import { LinkProperty, Project, Workspace } from "epanet-js";

console.warn = () => {};

const { text, valve, settings } = JSON.parse(fs.readFileSync(0, "utf8"));
const workspace = new Workspace();
await workspace.loadModule();
workspace.writeFile("network.inp", text);

// best gives the middle of several timings, as the machine may be busy.
function middle(times) {
  times.sort((a, b) => a - b);
  return Math.round(1e6 * times[Math.floor(times.length / 2)]);
}
const read = [], open = [], solve = [], again = [];
const iterations = {};
const rounds = text.length > 300_000 ? 7 : 15;
for (let round = 0; round < rounds; round++) {
  const project = new Project(workspace);
  let start = performance.now();
  project.open("network.inp", "network.rpt", "");
  read.push(performance.now() - start);
  start = performance.now();
  project.openH();
  open.push(performance.now() - start);
  const link = project.getLinkIndex(valve);
  for (let i = 0; i < 10; i++) {
    project.setLinkValue(link, LinkProperty.InitSetting, settings[0]);
    start = performance.now();
    project.initH(10); // flows from scratch
    project.runH();
    solve.push(performance.now() - start);
    iterations.solve = project.getStatistic(0);
    project.setLinkValue(link, LinkProperty.Setting, settings[1]);
    start = performance.now();
    project.runH();
    again.push(performance.now() - start);
    iterations.again = project.getStatistic(0);
  }
  project.closeH();
  project.close();
}
process.stdout.write(JSON.stringify({
  read: middle(read), open: middle(open), solve: middle(solve), again: middle(again), iterations,
}));
