//! A real client: Neovim, without a screen, types a mistake into a ledger, takes the fix, renames a part and completes a line.
//!
//! Only where it is asked for (`STRINGLINE_EDITOR=1`, as `tests/run` does): it needs `nvim`. Debian's is old (0.7): it has no inlay hints and
//! no semantic colours, which `requests` covers.

use std::io::Write as _;
use std::process::Command;

const SCRIPT: &str = r#"
local function fail(words) io.stderr:write(words .. "\n") vim.cmd("cquit 1") end
local function wait(what, holds) if not vim.wait(60000, holds, 20) then fail("waited in vain: " .. what) end end
local program, folder = vim.env.PROGRAM, vim.env.FOLDER
vim.cmd("edit " .. folder .. "/day.sline")
local client = vim.lsp.start_client({ name = "stringline", cmd = { program, "editor" }, root_dir = folder })
wait("the server", function() local c = vim.lsp.get_client_by_id(client) return c and c.initialized end)
vim.lsp.buf_attach_client(0, client)
local function ask(method, params)
  local all, why = vim.lsp.buf_request_sync(0, method, params, 60000)
  if not all or not all[client] then fail(method .. ": " .. (why or "no answer")) end
  if all[client].error then fail(method .. ": " .. all[client].error.message) end
  return all[client].result
end
local function line(number) return vim.api.nvim_buf_get_lines(0, number - 1, number, true)[1] end
vim.api.nvim_buf_set_lines(0, -1, -1, true, { "  remove cp-o7" })
wait("a message", function() return #vim.diagnostic.get(0) == 1 end)
local last = vim.api.nvim_buf_line_count(0)
vim.api.nvim_win_set_cursor(0, { last, 10 })
local params = vim.lsp.util.make_range_params()
params.context = { diagnostics = {} }
vim.lsp.util.apply_workspace_edit(ask("textDocument/codeAction", params)[1].edit, "utf-16")
if line(last) ~= "  remove cp-07" then fail("fixed to " .. line(last)) end
wait("no message", function() return #vim.diagnostic.get(0) == 0 end)
params = vim.lsp.util.make_position_params()
params.newName = "pad-9"
vim.lsp.util.apply_workspace_edit(ask("textDocument/rename", params), "utf-16")
if line(last) ~= "  remove pad-9" then fail("renamed to " .. line(last)) end
-- The other file is in a buffer that no server is attached to: what is on disk counts.
vim.cmd("wall")
vim.api.nvim_buf_set_lines(0, -1, -1, true, { "  fit " })
vim.api.nvim_win_set_cursor(0, { last + 1, 6 })
params = vim.lsp.util.make_position_params()
params.position.character = 6
local offered = ask("textDocument/completion", params)
if offered.items[1].label ~= "pad-9" then fail("offered " .. vim.inspect(offered)) end
vim.cmd("wall")
vim.cmd("qall!")
"#;

#[test]
fn a_real_editor_fixes_renames_and_completes() {
    if std::env::var_os("STRINGLINE_EDITOR").is_none() {
        let _ = writeln!(
            std::io::stderr(),
            "left out: a real editor (set STRINGLINE_EDITOR=1, or run ./tests/run)"
        );
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let cars = "car heron \"Heron\"\nkind pad \"pad\"  fits LF RF\npart cp-07 pad  opening new\n";
    std::fs::write(folder.path().join("cars.sline"), cars).unwrap();
    std::fs::write(
        folder.path().join("day.sline"),
        "2025-05-03 heron\n  say \"\u{1F600}\"\n  fit cp-07 LF\n",
    )
    .unwrap();
    let script = folder.path().join("drive.lua");
    std::fs::write(&script, SCRIPT).unwrap();
    // A slip in the script leaves the editor open for good: `timeout` (coreutils) ends it.
    let done = Command::new("timeout")
        .args(["--kill-after=5", "300", "nvim", "--headless", "-u", "NONE", "-i", "NONE", "-n", "-c"])
        .arg(format!("luafile {}", script.display()))
        .env("PROGRAM", env!("CARGO_BIN_EXE_stringline"))
        .env("FOLDER", folder.path())
        .output()
        .expect("nvim is on this machine (Debian: apt-get install neovim)");
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    assert_eq!(
        std::fs::read_to_string(folder.path().join("cars.sline")).unwrap(),
        cars.replace("cp-07", "pad-9")
    );
}
