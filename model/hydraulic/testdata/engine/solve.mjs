// Solves networks with the reference engine. Reads from standard input a JSON list
// of networks in the engine's text form, writes a JSON list of what it found: flow
// of each link (L/s), head (m) and outflow (L/s) of each node, iterations.
import fs from "node:fs";
import { CountType, LinkProperty, NodeProperty, Project, Workspace } from "epanet-js";

console.warn = () => {}; // "negative pressures" does not matter here

const workspace = new Workspace();
await workspace.loadModule();
const answers = [];
for (const text of JSON.parse(fs.readFileSync(0, "utf8"))) {
  workspace.writeFile("network.inp", text);
  const project = new Project(workspace);
  project.open("network.inp", "network.rpt", "");
  project.openH();
  project.initH(0);
  project.runH();
  const answer = { flow: {}, head: {}, demand: {}, iterations: project.getStatistic(0) };
  for (let i = 1; i <= project.getCount(CountType.LinkCount); i++) {
    answer.flow[project.getLinkId(i)] = project.getLinkValue(i, LinkProperty.Flow);
  }
  for (let i = 1; i <= project.getCount(CountType.NodeCount); i++) {
    answer.head[project.getNodeId(i)] = project.getNodeValue(i, NodeProperty.Head);
    answer.demand[project.getNodeId(i)] = project.getNodeValue(i, NodeProperty.Demand);
  }
  answers.push(answer);
  project.closeH();
  project.close();
}
process.stdout.write(JSON.stringify(answers));
