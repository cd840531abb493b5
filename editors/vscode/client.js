// Starts `foldscript editor-service` and lets the editor speak with it. All that is known of scripts is there.
"use strict";

const { workspace } = require("vscode");
const { LanguageClient, TransportKind } = require("vscode-languageclient/node");

let client;

function activate() {
  const settings = workspace.getConfiguration("foldscript");
  const run = {
    command: settings.get("command"),
    args: ["editor-service"],
    transport: TransportKind.stdio,
  };
  client = new LanguageClient("foldscript", "foldscript", run, {
    documentSelector: [{ language: "foldscript" }],
    initializationOptions: { figures: settings.get("figures") },
  });
  return client.start();
}

function deactivate() {
  return client && client.stop();
}

module.exports = { activate, deactivate };
