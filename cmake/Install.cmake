# cmake --install BUILD --prefix PREFIX puts everything where hosts look for it; scripts/uninstall.sh removes it.
#
# A prefix inside the user's home (~/.local) means this user: the bundles go to ~/.vst3 and ~/.lv2. Any other means
# everybody: PREFIX/lib/vst3 and PREFIX/lib/lv2, which hosts search below /usr and /usr/local. On macOS the bundles go
# to the folders for plugins of the user or of the system. The prefix is known only when installing, so that is where
# it is decided: InstallPlaces.cmake.
set(bundles "")
foreach(format IN LISTS formats)
    get_target_property(bundle PlumblinePlugin_${format} JUCE_PLUGIN_ARTEFACT_FILE)
    string(APPEND bundles "install_bundle(${format} \"${bundle}\")\n")
endforeach()

install(CODE "
set(folders_noted \"${PROJECT_BINARY_DIR}/install_folders.txt\")
set(project \"${PROJECT_SOURCE_DIR}\")
include(\"${PROJECT_SOURCE_DIR}/cmake/InstallPlaces.cmake\")
${bundles}
install_files(bin PROGRAMS \"$<TARGET_FILE:plumbline>\" \"$<TARGET_FILE:PlumblineStandalone>\")
install_files(share/doc/plumbline FILES
    \"\${project}/LICENSE\" \"\${project}/README.md\" \"\${project}/Assets/NOTICES\" \"\${project}/Assets/font/OFL.txt\")
install_folder(\"\${project}/Presets\" \"\${CMAKE_INSTALL_PREFIX}/share/plumbline\")
install_desktop_entry(\"\${project}/Assets/desktop/plumbline.desktop\" \"${PROJECT_BINARY_DIR}\")
")
