//! Rebuilds when a migration is added: the migrator embeds the folder.

fn main() {
    println!("cargo:rerun-if-changed=migrations");
    println!("cargo:rerun-if-changed=static");
}
